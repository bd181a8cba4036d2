import type { Quantity } from '../quantity.ts'

export const rectifierLoss: Quantity = {
  id: 'rectifierLoss',
  name: 'Loss of the rectifier',
  symbol: 'P_vr',
  unit: 'W',
  view: 'W',
  group: 'balance',
  ways: [
    {
      formula: 'P - P_dc',
      inputs: { P: 'activePower', P_dc: 'rectifierPower' },
      valid: [
        {
          test: 'P > 0.05 * P_r',
          constants: { P_r: 'generator.ratedPower' },
          otherwise: 'less than 5 % of rated power comes in',
        },
      ],
      possible: { low: 0, high: Number.POSITIVE_INFINITY, suspects: 'power or rectifier current' },
      source: 'power balance of a stage',
    },
  ],
}
