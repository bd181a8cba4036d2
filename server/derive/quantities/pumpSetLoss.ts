import type { Quantity } from '../quantity.ts'

export const pumpSetLoss: Quantity = {
  id: 'pumpSetLoss',
  name: 'Loss of pump, drive and pipe',
  symbol: 'P_vp',
  unit: 'W',
  view: 'W',
  group: 'balance',
  ways: [
    {
      formula: 'P_m - P_h',
      inputs: { P_m: 'pumpInputPower', P_h: 'hydraulicPower' },
      valid: [
        {
          test: 'P_m > 0.05 * P_r',
          constants: { P_r: 'generator.ratedPower' },
          otherwise: 'less than 5 % of rated power comes in',
        },
      ],
      possible: { low: 0, high: Number.POSITIVE_INFINITY, suspects: 'pump power, flow or pressure' },
      source: 'power balance of a stage',
    },
  ],
}
