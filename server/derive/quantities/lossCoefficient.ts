import type { Quantity } from '../quantity.ts'

export const lossCoefficient: Quantity = {
  id: 'lossCoefficient',
  name: 'Loss coefficient of the penstock',
  symbol: 'k_f',
  unit: 's2/m5',
  view: 's2/m5',
  group: 'condition',
  steady: ['water'],
  ways: [
    {
      formula: 'h_f / Q^2',
      inputs: { h_f: 'headLoss', Q: 'discharge' },
      valid: [
        {
          test: 'Q > 0.4 * Q_r',
          constants: { Q_r: 'turbine.ratedDischarge' },
          otherwise: 'discharge is below 40 % of rated',
        },
        { test: 'Q > 0', otherwise: 'no discharge' },
      ],
      source: 'h_f = k·Q², Darcy–Weisbach in the rough regime',
    },
  ],
}
