import { isSynchronous, type Quantity } from '../quantity.ts'

export const frequency: Quantity = {
  id: 'frequency',
  name: 'Electrical frequency',
  symbol: 'f',
  unit: 'Hz',
  view: 'Hz',
  group: 'electrical',
  ways: [
    {
      formula: 'omega * z_p / (2 * pi)',
      inputs: { omega: 'speed' },
      constants: { z_p: 'generator.polePairs' },
      applies: isSynchronous,
      source: 'f = n·p/60, p pole pairs',
    },
  ],
}
