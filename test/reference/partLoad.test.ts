import { describe, expect, it } from 'vitest'
import {
  crossFlowEfficiency,
  francisEfficiency,
  kaplanEfficiency,
  peltonEfficiency,
  propellerEfficiency,
  turgoEfficiency,
} from '../../server/physics/index.ts'
import { checkEach } from './check.ts'

const SOURCE =
  'Natural Resources Canada 2004 appendix, constants from transcriptions, computed for the project'

/** Values at 10 % … 100 % of the design discharge. Negative ones are the raw expression; ours gives 0 there. */
const CURVES: { name: string; at: (share: number) => number; want: number[] }[] = [
  {
    name: 'Francis, 50 m, 2 m³/s',
    at: (share) => francisEfficiency(2 * share, 2, 50, 4.5),
    want: [0.067828, 0.314534, 0.51441, 0.669793, 0.783373, 0.858373, 0.898901, 0.911058, 0.902595, 0.872368],
  },
  {
    name: 'Kaplan, 5 m, 10 m³/s',
    at: (share) => kaplanEfficiency(10 * share, 10, 5, 4.5),
    want: [
      -0.419485, 0.395623, 0.726473, 0.836868, 0.864087, 0.868061, 0.868256, 0.868256, 0.868061, 0.864087,
    ],
  },
  {
    name: 'Propeller, 5 m, 10 m³/s',
    at: (share) => propellerEfficiency(10 * share, 10, 5, 4.5),
    want: [-0.095244, 0.024825, 0.142954, 0.258903, 0.372356, 0.482879, 0.589833, 0.692171, 0.7878, 0.868256],
  },
  {
    name: 'Pelton, 200 m, 0.5 m³/s, 2 jets',
    at: (share) => peltonEfficiency(0.5 * share, 0.5, 200, 2),
    want: [0.472253, 0.781262, 0.879225, 0.90214, 0.905344, 0.905504, 0.905504, 0.905456, 0.903863, 0.88976],
  },
  {
    name: 'Turgo, 200 m, 0.5 m³/s, 2 jets',
    at: (share) => turgoEfficiency(0.5 * share, 0.5, 200, 2),
    want: [0.442253, 0.751262, 0.849225, 0.87214, 0.875344, 0.875504, 0.875504, 0.875456, 0.873863, 0.85976],
  },
  {
    name: 'Cross-flow',
    at: (share) => crossFlowEfficiency(share, 1),
    want: [0.341588, 0.609747, 0.675708, 0.698926, 0.714916, 0.729996, 0.745, 0.76, 0.775, 0.79],
  },
]

describe('part-load efficiency', () => {
  checkEach(
    CURVES.flatMap(({ name, at, want }) =>
      want.map((value, index) => ({
        what: `${name}, at ${10 * (index + 1)} % flow`,
        source: value < 0 ? `${SOURCE}; raw ${value}, floored by us` : SOURCE,
        got: () => at((index + 1) / 10),
        want: Math.max(0, value),
        plusMinus: 1e-6,
      })),
    ),
  )
  it('has no value for reversed flow', () => {
    expect(CURVES.map(({ at }) => at(-0.1))).toEqual(CURVES.map(() => NaN))
  })
})
