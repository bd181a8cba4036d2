import type { Quantity } from '../quantity.ts'

export const forebayVolume: Quantity = {
  id: 'forebayVolume',
  name: 'Water held at the intake',
  symbol: 'V_f',
  unit: 'm3',
  view: 'm3',
  group: 'water',
  ways: [
    {
      formula: 'volume(z) - volume(z_l)',
      inputs: { z: 'pondLevel' },
      constants: { z_l: 'forebay.lowestLevel' },
      curves: { volume: 'forebay.volumeCurve' },
      applies: (plant) => plant.forebay !== undefined,
      source: 'the table of the plant file, above the lowest level',
    },
    {
      formula: 'A * (z - z_l)',
      inputs: { z: 'pondLevel' },
      constants: { A: 'forebay.area', z_l: 'forebay.lowestLevel' },
      applies: (plant) => plant.forebay !== undefined,
      source: 'water surface times level above the lowest, walls upright',
    },
  ],
}
