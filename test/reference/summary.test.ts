import { describe, expect, it } from 'vitest'
import { median, medianAbsoluteDeviation, quantileInterpolated } from '../../server/statistics/quantiles.ts'
import { lineOf } from '../../server/trials/capture/steadiness.ts'
import { checkEach } from './check.ts'
import { NILE } from './nile.ts'

const HAND = 'by hand'
const NUMPY = 'numpy, computed for the project'
const SHIFTED = [1e9 + 4, 1e9 + 7, 1e9 + 13, 1e9 + 16]
const MAD_SAMPLE = [1, 1, 2, 2, 4, 6, 9]

/** Exceeded share of the time, annual flow of the Nile at Aswan, 1871–1970 [10⁸ m³]. */
const DURATION: [number, number][] = [
  [0.05, 1210.5],
  [0.1, 1160],
  [0.25, 1032.5],
  [0.5, 893.5],
  [0.75, 798.5],
  [0.9, 725.2],
  [0.95, 697.8],
]

describe('summary of a sample', () => {
  checkEach([
    {
      what: 'variance of four readings near 1e9',
      source: 'textbook case of lost digits, exact 30',
      got: () => lineOf(SHIFTED).deviation ** 2,
      want: 30,
      within: 1e-12,
    },
    {
      what: 'mean of four readings near 1e9',
      source: HAND,
      got: () => lineOf(SHIFTED).mean,
      want: 1e9 + 10,
      within: 1e-15,
    },
    {
      what: 'mean of the Nile record',
      source: NUMPY,
      got: () => lineOf(NILE).mean,
      want: 919.35,
      within: 1e-12,
    },
    {
      what: 'sum of the Nile record',
      source: 'public data set, read',
      got: () => lineOf(NILE).mean * NILE.length,
      want: 91_935,
      within: 1e-12,
    },
    {
      what: 'standard deviation of the Nile record',
      source: NUMPY,
      got: () => lineOf(NILE).deviation,
      want: 169.2275,
      plusMinus: 5e-5,
    },
    { what: 'median of the Nile record', source: NUMPY, got: () => median(NILE), want: 893.5 },
    ...DURATION.map(([p, want]) => ({
      what: `the flow of the Nile that is exceeded ${100 * p} % of the time`,
      source: 'public data set, read; type 7 quantiles computed for the project',
      got: () => quantileInterpolated(NILE, 1 - p),
      want,
      plusMinus: 1e-6,
    })),
    { what: 'median of 3, 1, 2, 10', source: HAND, got: () => median([3, 1, 2, 10]), want: 2.5 },
    {
      what: 'median absolute deviation',
      source: 'textbook sample, exact 1',
      got: () => medianAbsoluteDeviation(MAD_SAMPLE),
      want: 1,
    },
    {
      what: 'median absolute deviation of the Nile record',
      source: NUMPY,
      got: () => medianAbsoluteDeviation(NILE),
      want: 121.0,
    },
    {
      what: 'type 7 quantile of 1, 2, 3, 4 at 0.25',
      source: HAND,
      got: () => quantileInterpolated([1, 2, 3, 4], 0.25),
      want: 1.75,
    },
    {
      what: 'type 7 quantile of the Nile record at 0.33',
      source: NUMPY,
      got: () => quantileInterpolated(NILE, 0.33),
      want: 828.69,
      within: 1e-12,
    },
  ])
  it('has no quantile of an empty sample, outside 0–1, or of a sample with a gap', () => {
    expect([median([]), quantileInterpolated([1, 2], 1.1), median([1, NaN, 2])]).toEqual([NaN, NaN, NaN])
  })
  it('leaves the sample in its order', () => {
    const sample = [3, 1, 2]
    median(sample)
    expect(sample).toEqual([3, 1, 2])
  })
})
