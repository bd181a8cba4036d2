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
      formula: 'phaseUnbalance(I_1, I_2, I_3)',
      inputs: { I_1: 'phaseCurrent.1', I_2: 'phaseCurrent.2', I_3: 'phaseCurrent.3' },
      valid: [
        {
          test: 'I_1 + I_2 + I_3 > 0.15 * I_r',
          constants: { I_r: 'generator.ratedCurrent' },
          otherwise: 'current is below 5 % of rated',
        },
        { test: 'I_1 + I_2 + I_3 > 0', otherwise: 'no current' },
      ],
      source: 'largest deviation from the mean over the mean',
    },
  ],
}
