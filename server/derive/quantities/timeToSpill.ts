import type { Quantity, Way } from '../quantity.ts'

const RISING: Pick<Way, 'applies' | 'valid' | 'possible' | 'source'> = {
  applies: (plant) => plant.forebay !== undefined && plant.spillway !== undefined,
  valid: [
    {
      test: 'G > 0.02 * Q_r',
      constants: { Q_r: 'turbine.ratedDischarge' },
      otherwise: 'the level does not rise',
    },
    { test: 'G > 0', otherwise: 'the level does not rise' },
  ],
  possible: { low: 0, high: Number.POSITIVE_INFINITY, suspects: 'the level: the intake spills already' },
  source: 'volume that is left over what the intake gains',
}

export const timeToSpill: Quantity = {
  id: 'timeToSpill',
  name: 'Time until the intake spills',
  symbol: 't_s',
  unit: 's',
  view: 'min',
  group: 'water',
  ways: [
    {
      formula: '(volume(z_c) - volume(z_l) - V) / G',
      inputs: { V: 'forebayVolume', G: 'forebayGain' },
      constants: { z_c: 'spillway.crest', z_l: 'forebay.lowestLevel' },
      curves: { volume: 'forebay.volumeCurve' },
      ...RISING,
    },
    {
      formula: '(A * (z_c - z_l) - V) / G',
      inputs: { V: 'forebayVolume', G: 'forebayGain' },
      constants: { A: 'forebay.area', z_c: 'spillway.crest', z_l: 'forebay.lowestLevel' },
      ...RISING,
    },
  ],
}
