import type { Quantity } from '../quantity.ts'

export const generatorLoss: Quantity = {
  id: 'generatorLoss',
  name: 'Loss of the generator',
  symbol: 'P_vg',
  unit: 'W',
  view: 'W',
  group: 'balance',
  ways: [
    {
      formula: 'P_s - P',
      inputs: { P_s: 'shaftPower', P: 'activePower' },
      valid: [
        {
          test: 'P_s > 0.05 * P_r',
          constants: { P_r: 'generator.ratedPower' },
          otherwise: 'less than 5 % of rated power comes in',
        },
      ],
      possible: { low: 0, high: Number.POSITIVE_INFINITY, suspects: 'torque or power' },
      source: 'power balance of a stage',
    },
  ],
}
