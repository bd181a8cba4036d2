import type { Quantity } from '../quantity.ts'

export const residualShare: Quantity = {
  id: 'residualShare',
  name: 'Residual flow over what the licence demands',
  symbol: 's_r',
  unit: '1',
  view: '%',
  group: 'water',
  ways: [
    {
      formula: 'Q / Q_l',
      inputs: { Q: 'residualFlow' },
      constants: { Q_l: 'licence.handsOffFlow' },
      source: 'definition',
    },
  ],
}
