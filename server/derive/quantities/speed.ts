import { isSynchronous, type Quantity } from '../quantity.ts'

export const speed: Quantity = {
  id: 'speed',
  name: 'Speed',
  symbol: 'n',
  unit: 'rad/s',
  view: '/min',
  group: 'machine',
  ways: [
    {
      formula: '2 * pi * f / z_p',
      inputs: { f: 'frequency' },
      constants: { z_p: 'generator.polePairs' },
      applies: isSynchronous,
      source: 'f = n·p/60, p pole pairs',
    },
  ],
}
