import type { Quantity } from '../quantity.ts'

export const openJets: Quantity = {
  id: 'openJets',
  name: 'Jets open',
  symbol: 'N',
  unit: '1',
  view: '1',
  group: 'machine',
  ways: [
    {
      formula: 'sum(j)',
      inputs: { j: 'jetOpen.*' },
      source: 'count of open jets',
    },
  ],
}
