import type { Quantity } from '../quantity.ts'

export const currentUnbalance: Quantity = {
  id: 'currentUnbalance',
  name: 'Current unbalance',
  symbol: 'u_I',
  unit: '1',
  view: '%',
  group: 'electrical',
  ways: [
    {
      formula: 'phaseUnbalance(I)',
      inputs: { I: 'phaseCurrent.1..3' },
      valid: [
        {
          test: 'mean(I) > 0.05 * I_r',
          constants: { I_r: 'generator.ratedCurrent' },
          otherwise: 'current is below 5 % of rated',
        },
        { test: 'sum(I) > 0', otherwise: 'no current' },
      ],
      source: 'largest deviation from the mean over the mean',
    },
  ],
}
