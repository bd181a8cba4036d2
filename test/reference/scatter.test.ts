import { describe, expect, it } from 'vitest'
import { createScatter } from '../../server/derive/scatter.ts'
import { createRandom } from '../../server/statistics/bootstrap.ts'
import { coverageFactor95 } from '../../server/statistics/coverageFactor.ts'
import { createNormal } from '../support/normal.ts'
import { checkEach } from './check.ts'
import { NILE } from './nile.ts'

const PYTHON = 'plain Python, computed for the project'
const DRAWS = 20_000

interface Drawn {
  /** Mean of s² where the true variance is 1. */
  mean: number
  /** Degrees of freedom that s² really has, 2·mean²/variance. */
  freedom: number
  /** As it says itself, mean of all draws. */
  said: number
  /** Share of the readings after these whose truth lies within k₉₅·s. */
  covered: number
}

function scatterOf(readings: readonly number[], times?: readonly number[]): number {
  return filled(readings, times).deviation()
}

function filled(readings: readonly number[], times?: readonly number[]) {
  const scatter = createScatter()
  readings.forEach((reading, i) => {
    scatter.add(times?.[i] ?? i, reading)
  })
  return scatter
}

/** @param course What the quantity itself does; each reading is that and one standard normal deviate. */
function draw(count: number, course: (i: number) => number, seed: number): Drawn {
  const normal = createNormal(createRandom(seed))
  let [sum, squares, said, covered] = [0, 0, 0, 0]
  for (let i = 0; i < DRAWS; i++) {
    const scatter = filled(Array.from({ length: count }, (_, k) => course(k) + normal()))
    const [s, freedom] = [scatter.deviation(), scatter.freedom()]
    sum += s ** 2
    squares += s ** 4
    said += freedom
    if (Math.abs(normal()) <= coverageFactor95(freedom, 0, 0) * s) covered++
  }
  const mean = sum / DRAWS
  return {
    mean,
    freedom: (2 * mean ** 2) / (squares / DRAWS - mean ** 2),
    said: said / DRAWS,
    covered: covered / DRAWS,
  }
}

describe('the scatter of readings about their own course', () => {
  checkEach([
    {
      what: 'that of the first twenty years of the Nile',
      source: PYTHON,
      got: () => scatterOf(NILE.slice(0, 20)),
      want: 141.92440606547217,
      within: 1e-12,
    },
    {
      what: 'that of the next twenty, which is all that is looked at,',
      source: PYTHON,
      got: () => scatterOf(NILE.slice(0, 40)),
      want: 119.34113103015052,
      within: 1e-12,
    },
    {
      what: 'that of 1, 4, 2, 6, 3, 5, 4 at 0, 1, 3, 4, 7, 8, 10 s',
      source: PYTHON,
      got: () => scatterOf([1, 4, 2, 6, 3, 5, 4], [0, 1, 3, 4, 7, 8, 10]),
      want: 2.24807610054601,
      within: 1e-12,
    },
    { what: 'that of a ramp', source: 'by hand', got: () => scatterOf([1, 2, 3, 4, 5, 6, 7]), want: 0 },
    {
      what: 'that of five readings, too few,',
      source: 'by its definition',
      got: () => scatterOf([1, 3, 2, 4, 3]),
      want: 0,
    },
    {
      what: 'the degrees of freedom of twenty readings',
      source: '18/(1 + 8/9·17/18 + 1/18·16/18), Box 1954 (from memory), by hand',
      got: () => filled(NILE.slice(0, 20)).freedom(),
      want: 9.529411764705882,
    },
  ])

  // Monte Carlo against the known truth; deviations of a share over 20,000 draws are 0.15 %, of a mean of s² 0.4 % or less.
  it.each([6, 8, 12, 20])(
    'has of %i normal readings the right size, the degrees of freedom that it says, and a 95 % interval',
    (count) => {
      const { mean, freedom, said, covered } = draw(count, () => 0, count)
      expect(Math.abs(mean - 1)).toBeLessThan(0.02)
      expect(Math.abs(said / freedom - 1)).toBeLessThan(0.06)
      // Rounded down to a whole number (JCGM 100 G.4.1), so with few readings rather too wide.
      expect(covered).toBeGreaterThan(0.945)
      expect(covered).toBeLessThan(count < 12 ? 0.975 : 0.965)
    },
  )

  it.each([
    ['a start in its middle', (i: number) => 50 * Math.max(0, i - 10)],
    ['the end of a run-down', (i: number) => 80 * Math.max(0, 9 - i)],
    ['a step of a hundred times its size', (i: number) => (i < 12 ? 0 : 100)],
    ['a single reading far off', (i: number) => (i === 7 ? 1000 : 0)],
  ])('is not inflated by %s', (_what, course) => {
    const { mean, covered } = draw(20, course, 5)
    expect(Math.sqrt(mean)).toBeGreaterThan(0.95)
    expect(Math.sqrt(mean)).toBeLessThan(1.05)
    expect(covered).toBeGreaterThan(0.94)
  })

  it('takes the steps of an instrument that rounds for scatter, not for outliers', () => {
    // Three of twenty readings one step up, each by itself: residuals by hand 3·(1 + ¼ + ¼)/1.5 = 3 in 18.
    const toggling = Array.from({ length: 20 }, (_, i) => (i === 4 || i === 9 || i === 14 ? 1 : 0))
    expect(scatterOf(toggling) ** 2).toBeCloseTo(3 / 18, 10)
  })

  it('keeps what it knew over a step until enough is seen of the new level', () => {
    const normal = createNormal(createRandom(3))
    const scatter = filled(Array.from({ length: 20 }, () => normal()))
    const before = scatter.deviation()
    scatter.restart()
    for (let i = 0; i < 5; i++) scatter.add(20 + i, 100 + 10 * normal())
    expect(scatter.deviation()).toBe(before)
    for (let i = 5; i < 20; i++) scatter.add(20 + i, 100 + 10 * normal())
    expect(scatter.deviation()).toBeGreaterThan(5)
  })
})
