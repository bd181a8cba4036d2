import type { Quantity } from '../quantity.ts'

export const forebayGain: Quantity = {
  id: 'forebayGain',
  name: 'What the intake gains (− loses)',
  symbol: 'Q_f',
  unit: 'm3/s',
  view: 'L/s',
  group: 'water',
  ways: [
    {
      formula: 'slope(V)',
      inputs: { V: 'forebayVolume' },
      window: { seconds: 300, take: 'slope' },
      applies: (plant) => plant.forebay !== undefined,
      source: 'inflow less outflow: slope of the stored volume over 5 min by least squares',
    },
  ],
}
