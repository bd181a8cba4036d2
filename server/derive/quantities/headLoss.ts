import type { Quantity } from '../quantity.ts'

export const headLoss: Quantity = {
  id: 'headLoss',
  name: 'Head loss',
  symbol: 'h_f',
  unit: 'm',
  view: 'm',
  group: 'head',
  ways: [
    {
      formula: 'H_g - H_n',
      inputs: { H_g: 'grossHead', H_n: 'netHead' },
      source: 'definition: gross head less net head',
    },
  ],
}
