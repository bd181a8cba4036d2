import type { Quantity } from '../quantity.ts'

export const timeToDrain: Quantity = {
  id: 'timeToDrain',
  name: 'Time until the intake is empty',
  symbol: 't_e',
  unit: 's',
  view: 'min',
  group: 'water',
  ways: [
    {
      formula: '-V / G',
      inputs: { V: 'forebayVolume', G: 'forebayGain' },
      applies: (plant) => plant.forebay !== undefined,
      valid: [
        {
          test: 'G < -0.02 * Q_r',
          constants: { Q_r: 'turbine.ratedDischarge' },
          otherwise: 'the level does not fall',
        },
        { test: 'G < 0', otherwise: 'the level does not fall' },
        { test: 'V > 0', otherwise: 'the level is at its lowest' },
      ],
      source: 'stored volume over what the intake loses',
    },
  ],
}
