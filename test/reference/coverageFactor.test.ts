import { describe, expect, it } from 'vitest'
import { createRandom } from '../../server/statistics/bootstrap.ts'
import { coverageFactor95, rectangleCoverage } from '../../server/statistics/coverageFactor.ts'
import { normalCumulative } from '../../server/statistics/normal.ts'
import { studentQuantile } from '../../server/statistics/studentT.ts'
import { createNormal } from '../support/normal.ts'
import { symmetricInterval } from '../support/symmetricInterval.ts'
import { checkEach } from './check.ts'

describe('coverageFactor95', () => {
  // JCGM 100:2008 table G.2, column 95 %
  it.each([
    [1, 12.71],
    [5, 2.57],
    [10, 2.23],
    [20, 2.09],
    [50, 2.01],
    [100, 1.984],
  ])('is the printed t of %d degrees of freedom', (freedom, printed) => {
    expect(coverageFactor95(freedom)).toBeCloseTo(printed, 2)
  })

  it('stays within 0.0006 of the exact point for any whole number of degrees of freedom', () => {
    for (let freedom = 1; freedom <= 1000; freedom++)
      expect(Math.abs(coverageFactor95(freedom) - studentQuantile(0.95, freedom)), `${freedom}`).toBeLessThan(
        0.0006,
      )
  })

  // JCGM 100:2008 G.4.1: interpolate or truncate
  it('is never below the exact point between whole numbers, nor a twentieth above, and gives 1.96 without end', () => {
    for (let freedom = 1.05; freedom < 60; freedom += 0.05) {
      const ratio = coverageFactor95(freedom) / studentQuantile(0.95, freedom)
      expect(ratio, `${freedom}`).toBeGreaterThan(0.9998)
      expect(ratio, `${freedom}`).toBeLessThan(freedom < 2 ? 1.05 : 1.01)
    }
    expect(coverageFactor95(Number.POSITIVE_INFINITY)).toBeCloseTo(1.96, 3)
  })
})

/** Half-width of 95 % of a sum: `widths` are the standard uncertainties of its rectangles, `rest` of its normal part. */
function halfWidth(widths: readonly number[], rest = 0): number {
  const u = Math.hypot(...widths, rest)
  const [first = 0, second = 0] = [...widths].sort((a, b) => b - a)
  return u * coverageFactor95(Number.POSITIVE_INFINITY, first / u, second / u)
}

const GRID = 'convolved on a grid with a statistics library, computed for the project'

describe('95 % of a sum of rectangles and a normal rest', () => {
  checkEach([
    {
      what: 'half-width of three R(u = 1) and one R(u = 10)',
      source: 'JCGM 101 9.2.4, 17.0; from memory, simulated for the project',
      got: () => halfWidth([1, 1, 1, 10]),
      want: 17,
      within: 0.005,
    },
    {
      what: 'k of one rectangle',
      source: 'by hand: 95 % of its half-width √3·u',
      got: () => halfWidth([1]),
      want: 0.95 * Math.sqrt(3),
      within: 1e-4,
    },
    {
      what: 'k of two of one width',
      source: 'triangle, by hand: √6·(1 − √0.05)',
      got: () => halfWidth([1, 1]) / Math.SQRT2,
      want: Math.sqrt(6) * (1 - Math.sqrt(0.05)),
      within: 1e-4,
    },
    {
      what: 'half-width of R(1), R(0.5), N(0.3)',
      source: GRID,
      got: () => halfWidth([1, 0.5], 0.3),
      want: 2.1378,
      within: 2e-4,
    },
    {
      what: 'half-width of R(1), R(0.1), N(0.1)',
      source: GRID,
      got: () => halfWidth([1, 0.1], 0.1),
      want: 1.6806,
      within: 2e-4,
    },
    {
      what: 'half-width of R(1), R(1), R(1)',
      source: GRID,
      got: () => halfWidth([1, 1, 1]),
      want: 3.3556,
      within: 0.006,
    },
    {
      what: 'half-width of R(1), R(0.7), R(0.5)',
      source: GRID,
      got: () => halfWidth([1, 0.7, 0.5]),
      want: 2.5134,
      within: 0.006,
    },
    {
      what: 'half-width of R(1) and four R(0.02)',
      source: 'normal rest, by hand next to nothing',
      got: () => halfWidth([1, 0.02, 0.02, 0.02, 0.02]),
      want: 1.6468,
      within: 1e-3,
    },
  ])

  it('is a + b − √(ab/5) for any two rectangles of half-widths a and b (trapezoid, by hand; JCGM 100 4.3.9)', () => {
    for (const b of [0.2, 0.35, 0.5, 0.75, 1]) {
      const a = 1
      const got = halfWidth([a / Math.sqrt(3), b / Math.sqrt(3)])
      expect(got / (a + b - Math.sqrt((a * b) / 5)), `b = ${b}`).toBeCloseTo(1, 3)
    }
  })

  it('tends to 1.96 for many contributions and for a normal rest that outweighs them', () => {
    expect(halfWidth(Array.from({ length: 30 }, () => 1)) / Math.sqrt(30)).toBeCloseTo(1.96, 2)
    expect(rectangleCoverage(0.3, 0.1)).toBeCloseTo(1.96, 2)
    expect(rectangleCoverage(0, 0)).toBeCloseTo(1.96, 3)
  })

  it('falls steadily from 1.96 to 1.645 as one rectangle takes over', () => {
    const factors = Array.from({ length: 101 }, (_, i) => rectangleCoverage(i / 100, 0))
    for (let i = 1; i < factors.length; i++) expect(factors[i]!).toBeLessThan(factors[i - 1]! + 1e-5)
    expect(factors.at(-1)!).toBeCloseTo(1.645, 2)
  })

  it('agrees with drawing to 1 % for mixes of up to five rectangles and a normal rest (JCGM 101)', () => {
    const random = createRandom(20261126)
    const normal = createNormal(random)
    for (let mix = 0; mix < 12; mix++) {
      const widths = Array.from({ length: 1 + (mix % 5) }, () => 0.05 + random())
      const rest = mix % 2 === 0 ? 0 : 0.5 * random()
      const values = Array.from({ length: 60_000 }, () =>
        widths.reduce((sum, u) => sum + Math.sqrt(3) * u * (2 * random() - 1), rest * normal()),
      )
      const { low, high } = symmetricInterval(values, 0.95)
      expect(
        Math.abs((2 * halfWidth(widths, rest)) / (high - low) - 1),
        `${widths} and ${rest}`,
      ).toBeLessThan(0.012)
    }
  })
})

describe('coverage with few degrees of freedom', () => {
  it('is Student’s t where all is scatter, and t/1.96 times the factor of the rectangles else', () => {
    expect(coverageFactor95(3)).toBeCloseTo(3.1824, 4)
    expect(coverageFactor95(3, 1, 0) / coverageFactor95(Number.POSITIVE_INFINITY, 1, 0)).toBeCloseTo(
      3.1824 / 1.96,
      3,
    )
  })

  // what an interval is for: whatever the class and however few the readings, it holds the truth about as often as it says
  it.each([
    [6, 0.3],
    [6, 1],
    [6, 3],
    [13, 0.5],
    [13, 2],
  ])(
    'holds 93.5–96 %% of the errors with ν = %d and a scatter of %f of the rectangle’s u (drawn)',
    (freedom, scatter) => {
      const random = createRandom(7)
      const normal = createNormal(random)
      const trials = 40_000
      let held = 0
      for (let i = 0; i < trials; i++) {
        let squares = 0
        for (let j = 0; j < freedom; j++) squares += normal() ** 2
        const s = scatter * Math.sqrt(squares / freedom)
        const u = Math.hypot(1, s)
        const error = Math.sqrt(3) * (2 * random() - 1) + scatter * normal()
        if (Math.abs(error) <= u * coverageFactor95((freedom * u ** 4) / s ** 4, 1 / u)) held++
      }
      expect(held / trials).toBeGreaterThan(0.935)
      expect(held / trials).toBeLessThan(0.96)
    },
  )
})

describe('normalCumulative', () => {
  checkEach(
    (
      [
        [-8, 6.22096057427174e-16, 1e-7],
        [-5, 2.866515718791933e-7, 1e-9],
        [-1, 0.15865525393145707, 1e-14],
        [0, 0.5, 1e-15],
        [2, 0.9772498680518208, 1e-15],
        [7.5, 0.9999999999999681, 1e-15],
      ] as const
    ).map(([z, want, within]) => ({
      what: `Φ(${z})`,
      source: 'statistics library, computed for the project',
      got: () => normalCumulative(z),
      want,
      within,
    })),
  )
})
