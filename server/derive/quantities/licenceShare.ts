import type { Quantity } from '../quantity.ts'

export const licenceShare: Quantity = {
  id: 'licenceShare',
  name: 'Discharge over what the licence allows',
  symbol: 's_l',
  unit: '1',
  view: '%',
  group: 'water',
  ways: [
    {
      formula: 'Q / Q_l',
      inputs: { Q: 'discharge' },
      constants: { Q_l: 'licence.maximumDischarge' },
      source: 'definition',
    },
  ],
}
