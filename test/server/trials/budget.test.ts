import { describe, expect, it } from 'vitest'
import type { MethodConstant } from '../../../server/trials/constants.ts'
import { budgetOf, combineParts } from '../../../server/trials/pack/budget.ts'
import type { MethodInstrument, PointMethod } from '../../../server/trials/runMethod.ts'
import type { FigureDescription } from '../../../server/wire/figure.ts'
import type { TrialPoint } from '../../../server/wire/point.ts'

const figure = (id: string, unit: string): FigureDescription => ({
  id,
  name: id,
  symbol: id,
  unit,
  viewUnit: unit,
  group: 'machine',
  origin: 'derived',
  staleAfterMs: null,
})

const part = (contribution: number, degreesOfFreedom: number) => ({
  source: 's',
  quantity: 'q',
  unit: 'm',
  value: 1,
  type: 'B' as const,
  limits: null,
  divisor: null,
  distribution: 'as stated' as const,
  standard: Math.abs(contribution),
  sensitivity: 1,
  contribution,
  degreesOfFreedom,
})

describe('an uncertainty budget', () => {
  // JCGM 100:2008, H.1: end gauge of 50 mm. Contributions 25, 9.7, 2.9 and 16.6 nm with 18, 25.6, 50 and 2 degrees of
  // freedom; printed u_c = 32 nm, ν_eff = 16. Table G.2: t_95(16) = 2.12, t_95(17) = 2.11. Unrounded inputs computed apart from the code.
  it('comes to the combined and expanded uncertainty that JCGM 100 H.1 prints, at 95 %', () => {
    const parts = [part(25, 18), part(9.68194, 25.64), part(2.9, 50), part(-16.6, 2)]
    const budget = combineParts(parts)
    expect(budget.combined).toBeCloseTo(31.7, 1)
    expect(Math.floor(budget.degreesOfFreedom)).toBe(16)
    expect(budget.coverageFactor).toBeGreaterThan(2.11 - 0.005)
    expect(budget.coverageFactor).toBeLessThan(2.12)
    expect(budget.expanded).toBeCloseTo(2.12 * 31.7, 0)
  })

  it('gives shares of the variance that add up to all of it, the largest first', () => {
    const { rows } = combineParts([part(3, 5), part(-4, Number.POSITIVE_INFINITY)])
    // 9 and 16 of 25
    expect(rows.map((row) => row.share)).toEqual([0.64, 0.36])
  })

  const instrument = (id: string, limits: MethodInstrument['limits']): MethodInstrument => ({
    id,
    name: id,
    quantity: id,
    unit: 'V',
    accuracy: '',
    ...(limits ? { limits } : {}),
  })
  const limits = { share: 0.002, zero: 0, fixed: 0.0375, isRectangular: true, resolution: 0.01 }
  const own = (id: string, mean: number, contributions: Record<string, number>) => ({
    id,
    mean,
    deviation: 0,
    effectiveCount: 40,
    typeA: 0,
    typeB: 0,
    u95: 0,
    contributions,
  })
  const point = (contributions: Record<string, number>) =>
    ({ figures: [own('y', 10, contributions), own('a', 25, {}), own('b', 25, {})] }) as unknown as TrialPoint
  const method = (instruments: MethodInstrument[]) =>
    ({
      instruments,
      doubtful: [] as MethodConstant[],
      view: { figures: [figure('y', 'W'), figure('a', 'V'), figure('b', 'V')] },
    }) as PointMethod

  it('splits an instrument into limits over √3 and half a step over √3, with one sensitivity', () => {
    // by hand: a = 0.002·25 + 0.0375 = 0.0875 V → u = 0.050518 V; step 0.01 V → u = 0.005/√3 = 0.0028868 V
    const contribution = 2 * Math.hypot(0.0875 / Math.sqrt(3), 0.005 / Math.sqrt(3))
    const budget = budgetOf('y', point({ a: contribution }), method([instrument('a', limits)]))!
    expect(budget.rows[0]!.limits).toBeCloseTo(0.0875, 12)
    expect(budget.rows[0]!.standard).toBeCloseTo(0.050518, 6)
    expect(budget.rows[1]!.standard).toBeCloseTo(0.0028868, 7)
    for (const row of budget.rows) expect(row.sensitivity).toBeCloseTo(2, 9)
    expect(budget.combined).toBeCloseTo(contribution, 12)
  })

  it('holds 95 % of one rectangle in 0.95 of its half-width, as a live figure does', () => {
    // JCGM 101:2008, a rectangle; the half-width is 2·0.0875 V
    const whole = { ...limits, resolution: 0 }
    const contribution = (2 * 0.0875) / Math.sqrt(3)
    const budget = budgetOf('y', point({ a: contribution }), method([instrument('a', whole)]))!
    expect(budget.expanded).toBeCloseTo(0.95 * 2 * 0.0875, 4)
  })

  it('keeps instruments of one calibration in one row, since they err together', () => {
    const together = { ...limits, resolution: 0, calibration: 'meter' }
    const budget = budgetOf(
      'y',
      point({ meter: 0.2 }),
      method([instrument('a', together), instrument('b', together)]),
    )!
    expect(budget.rows).toHaveLength(1)
    expect(budget.rows[0]!.source).toBe('a, b (calibrated together: meter): limits of error')
    expect(budget.combined).toBeCloseTo(0.2, 12)
  })

  it('shows as stated what a person typed, and what the plant file stated no limits of', () => {
    const budget = budgetOf('y', point({ 'by hand: y': 0.3, a: -0.4 }), method([instrument('a', undefined)]))!
    expect(budget.rows.map((row) => [row.source, row.distribution, row.contribution])).toEqual([
      ['a', 'as stated', -0.4],
      ['by hand: y', 'as stated', 0.3],
    ])
    expect(budget.combined).toBeCloseTo(0.5, 12)
  })
})
