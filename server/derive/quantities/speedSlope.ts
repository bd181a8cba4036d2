import type { Quantity } from '../quantity.ts'

export const speedSlope: Quantity = {
  id: 'speedSlope',
  name: 'Rate of change of speed',
  symbol: 'α',
  unit: 'rad/s2',
  view: '/min/s',
  group: 'machine',
  ways: [
    {
      formula: 'slope(omega)',
      inputs: { omega: 'speed' },
      window: { seconds: 1, take: 'slope' },
      source: 'slope of the speed over 1 s, at least five readings, by least squares',
    },
  ],
}
