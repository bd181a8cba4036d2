import type { Quantity } from '../quantity.ts'

export const lossShare: Quantity = {
  id: 'lossShare',
  name: 'Share of gross head lost',
  symbol: 's_f',
  unit: '1',
  view: '%',
  group: 'head',
  steady: ['water'],
  ways: [
    {
      formula: 'h_f / H_g',
      inputs: { h_f: 'headLoss', H_g: 'grossHead' },
      valid: [{ test: 'H_g > 0', otherwise: 'no gross head' }],
      source: 'definition; power at the machine is highest at one third (Darcy loss ∝ Q²)',
    },
  ],
}
