import type { Quantity } from '../quantity.ts'

export const lossOverOptimum: Quantity = {
  id: 'lossOverOptimum',
  name: 'Head loss over that of greatest power',
  symbol: 'r_f',
  unit: '1',
  view: '%',
  group: 'head',
  steady: ['water'],
  ways: [
    {
      formula: '3 * h_f / H_g',
      inputs: { h_f: 'headLoss', H_g: 'grossHead' },
      valid: [{ test: 'H_g > 0', otherwise: 'no gross head' }],
      source:
        'power at the machine is greatest at h_f = H_g/3 (loss ∝ Q²), 100 % here; designs stay at 12 … 30 % (common practice, no source)',
    },
  ],
}
