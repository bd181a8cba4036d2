import type { FigureRecord, ValidityFloor, Way } from '../quantity.ts'

const RISING_LEVEL: readonly ValidityFloor[] = [
  {
    test: 'G > 0.02 * Q_r',
    constants: { Q_r: 'turbine.ratedDischarge' },
    otherwise: 'the level does not rise',
  },
  { test: 'G > 0', otherwise: 'the level does not rise' },
]

const SPILLS = 'the intake spills already'

const RISING: Pick<Way, 'applies' | 'source'> = {
  applies: (plant) => plant.forebay !== undefined && plant.spillway !== undefined,
  source: 'volume that is left over what the intake gains',
}

/** The pond at the intake: what it holds, gains and spills. */
export const pond: readonly FigureRecord[] = [
  /** The level that spills, is stored and leaves the residual flow: before the rack where that is measured. */
  {
    id: 'pondLevel',
    name: 'Level at the intake',
    symbol: 'z_i',
    unit: 'm',
    group: 'water',
    background: true,
    ways: [
      { formula: 'z', inputs: { z: 'rackUpstreamLevel' }, source: 'the level before the rack' },
      { formula: 'z', inputs: { z: 'headwaterLevel' }, source: 'the headwater level' },
    ],
  },
  {
    id: 'spillFlow',
    name: 'Flow over the spillway',
    symbol: 'Q_s',
    unit: 'm3/s',
    view: 'L/s',
    group: 'water',
    ways: [
      {
        formula: 'Q_w',
        inputs: { Q_w: 'weirFlow' },
        applies: (plant) => plant.weir?.measures === 'spillFlow',
        source: 'the measuring weir',
      },
      {
        formula: 'broadCrestedWeir(C, max(z, z_c) - z_c, b)',
        inputs: { z: 'pondLevel' },
        constants: { C: 'spillway.coefficient', z_c: 'spillway.crest', b: 'spillway.width' },
        applies: (plant) => plant.spillway !== undefined,
        estimated: 'weir law with the coefficient of the plant file; a spillway is not a calibrated weir',
        source:
          'Q = C·b·h^1.5, C about 1.7 for a broad and 1.85 for a sharp crest (trade practice, no source)',
      },
    ],
  },
  {
    id: 'forebayVolume',
    name: 'Water held at the intake',
    symbol: 'V_f',
    unit: 'm3',
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
  },
  {
    id: 'forebayGain',
    name: 'What the intake gains (− loses)',
    symbol: 'Q_f',
    unit: 'm3/s',
    view: 'L/s',
    group: 'water',
    formula: 'slope(V)',
    inputs: { V: 'forebayVolume' },
    window: { seconds: 300, take: 'slope' },
    applies: (plant) => plant.forebay !== undefined,
    source: 'inflow less outflow: slope of the stored volume over 5 min by least squares',
  },
  {
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
        valid: [
          {
            test: 'V < volume(z_c) - volume(z_l)',
            constants: { z_c: 'spillway.crest', z_l: 'forebay.lowestLevel' },
            otherwise: SPILLS,
          },
          ...RISING_LEVEL,
        ],
        ...RISING,
      },
      {
        formula: '(A * (z_c - z_l) - V) / G',
        inputs: { V: 'forebayVolume', G: 'forebayGain' },
        constants: { A: 'forebay.area', z_c: 'spillway.crest', z_l: 'forebay.lowestLevel' },
        valid: [
          {
            test: 'V < A * (z_c - z_l)',
            constants: { A: 'forebay.area', z_c: 'spillway.crest', z_l: 'forebay.lowestLevel' },
            otherwise: SPILLS,
          },
          ...RISING_LEVEL,
        ],
        ...RISING,
      },
    ],
  },
  {
    id: 'timeToDrain',
    name: 'Time until the intake is empty',
    symbol: 't_e',
    unit: 's',
    view: 'min',
    group: 'water',
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
]
