import type { Quantity } from '../quantity.ts'

export const turbineLoss: Quantity = {
  id: 'turbineLoss',
  name: 'Loss of nozzles and runner',
  symbol: 'P_vt',
  unit: 'W',
  view: 'W',
  group: 'balance',
  ways: [
    {
      formula: 'P_h - P_s',
      inputs: { P_h: 'hydraulicPower', P_s: 'shaftPower' },
      valid: [
        {
          test: 'P_h > 0.05 * P_r',
          constants: { P_r: 'generator.ratedPower' },
          otherwise: 'less than 5 % of rated power comes in',
        },
      ],
      possible: { low: 0, high: Number.POSITIVE_INFINITY, suspects: 'flow, pressure or torque' },
      source: 'power balance of a stage',
    },
  ],
}
