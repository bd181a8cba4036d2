import { describe, expect, it } from 'vitest'
import {
  createRunningSummary,
  hampelFilter,
  median,
  medianAbsoluteDeviation,
  quantileInterpolated,
  quantileWeibull,
  successiveDeviation,
  summarise,
  vonNeumannRatio,
} from '../../server/statistics/index.ts'
import { checkEach } from './check.ts'
import { NILE } from './nile.ts'

const HAND = 'by hand'
const NUMPY = 'numpy, computed for the project'
const SHIFTED = [1e9 + 4, 1e9 + 7, 1e9 + 13, 1e9 + 16]
const MAD_SAMPLE = [1, 1, 2, 2, 4, 6, 9]

describe('summary of a sample', () => {
  checkEach([
    {
      what: 'variance of four readings near 1e9',
      source: 'textbook case of lost digits, exact 30',
      got: () => summarise(SHIFTED).variance,
      want: 30,
      within: 1e-12,
    },
    {
      what: 'mean of four readings near 1e9',
      source: HAND,
      got: () => summarise(SHIFTED).mean,
      want: 1e9 + 10,
      within: 1e-15,
    },
    {
      what: 'scatter of successive differences of 1, 3, 2, 4',
      source: '√((4 + 1 + 4)/6), by hand',
      got: () => successiveDeviation([1, 3, 2, 4]),
      want: Math.sqrt(1.5),
    },
    {
      what: 'scatter of successive differences of a ramp',
      source: '√½, by hand',
      got: () => successiveDeviation([1, 2, 3, 4]),
      want: Math.SQRT1_2,
    },
    {
      what: 'von Neumann ratio of a ramp of four',
      source: '1/(5/3), by hand',
      got: () => vonNeumannRatio([1, 2, 3, 4]),
      want: 0.6,
    },
    {
      what: 'von Neumann ratio of 0, 1, 0, 1',
      source: '1/(1/3), by hand',
      got: () => vonNeumannRatio([0, 1, 0, 1]),
      want: 3,
    },
    {
      what: 'von Neumann ratio of the Nile record',
      source: NUMPY,
      got: () => vonNeumannRatio(NILE),
      want: 0.9776376561895564,
    },
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
    {
      what: 'Weibull quantile of 1, 2, 3 at 0.25',
      source: HAND,
      got: () => quantileWeibull([1, 2, 3], 0.25),
      want: 1,
    },
    {
      what: 'Weibull quantile of the Nile record at 0.33',
      source: NUMPY,
      got: () => quantileWeibull(NILE, 0.33),
      want: 826.31,
      within: 1e-12,
    },
  ])
  it('knows nothing before the first reading, no scatter before the second, and does not forget a missing one', () => {
    const running = createRunningSummary()
    expect([running.count, running.mean, running.variance]).toEqual([0, NaN, NaN])
    running.add(5)
    expect([running.count, running.mean, running.deviation]).toEqual([1, 5, NaN])
    running.add(NaN)
    expect(running.mean).toBeNaN()
  })
  it('has no quantile of an empty sample, outside 0–1, or of a sample with a gap', () => {
    expect([median([]), quantileInterpolated([1, 2], 1.1), median([1, NaN, 2])]).toEqual([NaN, NaN, NaN])
  })
  it('leaves the sample in its order', () => {
    const sample = [3, 1, 2]
    median(sample)
    expect(sample).toEqual([3, 1, 2])
  })
})

describe('Hampel filter', () => {
  it('takes out a spike and says where (by hand: window median 1, MAD 0)', () => {
    expect(hampelFilter([1, 1, 9, 1, 1], 2, 3)).toEqual({ values: [1, 1, 1, 1, 1], replaced: [2] })
  })
  it('keeps a reading just inside 3·1.4826·MAD and takes one just outside (by hand: median 3, MAD 1, limit 4.4478)', () => {
    expect(hampelFilter([2, 3, 7.44, 4, 2.5], 2, 3).replaced).toEqual([])
    expect(hampelFilter([2, 3, 7.46, 4, 2.5], 2, 3).replaced).toEqual([2])
  })
  it('leaves a ramp and a step alone (by hand)', () => {
    expect(hampelFilter([1, 2, 3, 4, 5, 6], 2, 3).replaced).toEqual([])
    expect(hampelFilter([0, 0, 0, 0, 5, 5, 5, 5], 2, 3).replaced).toEqual([])
  })
  it('keeps a gap a gap and looks past it (by hand)', () => {
    const { values, replaced } = hampelFilter([1, NaN, 9, 1, 1, 1], 3, 3)
    expect(values).toEqual([1, NaN, 1, 1, 1, 1])
    expect(replaced).toEqual([2])
  })
  it('refuses a window of nothing', () => {
    expect(() => hampelFilter([1], 0, 3)).toThrow(RangeError)
  })
})
