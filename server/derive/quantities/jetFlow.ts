import { hasJets, type Quantity } from '../quantity.ts'

export const jetFlow: Quantity = {
  id: 'jetFlow',
  name: 'Discharge per open jet',
  symbol: 'Q_j',
  unit: 'm3/s',
  view: 'L/s',
  group: 'machine',
  ways: [
    {
      formula: 'Q / N',
      inputs: { Q: 'discharge', N: 'openJets' },
      applies: hasJets,
      valid: [{ test: 'N > 0', otherwise: 'no jet is open' }],
      source: 'definition',
    },
  ],
}
