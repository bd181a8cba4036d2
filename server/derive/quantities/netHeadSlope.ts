import type { Quantity } from '../quantity.ts'

export const netHeadSlope: Quantity = {
  id: 'netHeadSlope',
  name: 'Rate of change of the net head',
  symbol: 'dH/dt',
  unit: 'm/s',
  view: 'm/s',
  group: 'head',
  ways: [
    {
      formula: 'slope(H_n)',
      inputs: { H_n: 'netHead' },
      window: { seconds: 2, take: 'slope' },
      source: 'slope of the net head over 2 s, at least five values, by least squares',
    },
  ],
}
