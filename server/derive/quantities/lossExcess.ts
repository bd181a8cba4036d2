import type { Quantity } from '../quantity.ts'

export const lossExcess: Quantity = {
  id: 'lossExcess',
  name: 'Head loss beyond the pipe model',
  symbol: 'Δh_f',
  unit: 'm',
  view: 'm',
  group: 'condition',
  steady: ['water'],
  ways: [
    {
      formula: 'h_f - h_m',
      inputs: { h_f: 'headLoss', h_m: 'modelledHeadLoss', Q: 'discharge' },
      valid: [
        {
          test: 'Q > 0.4 * Q_r',
          constants: { Q_r: 'turbine.ratedDischarge' },
          otherwise: 'discharge is below 40 % of rated',
        },
      ],
      source: 'common practice, no source: growth means fouling, air or a valve that is part shut',
    },
  ],
}
