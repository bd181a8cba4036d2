import {
  bootstrapResiduals,
  createRandom,
  type Interval,
  symmetricInterval,
} from '../../statistics/bootstrap.ts'
import { NORMAL_95 } from '../../statistics/normal.ts'
import { median, medianAbsoluteDeviation } from '../../statistics/quantiles.ts'
import { studentQuantile } from '../../statistics/studentT.ts'
import { expandTypes, type Systematic } from '../../statistics/uncertainty.ts'
import type { BestPoint, FittedCurve, FittedParameter, TrialResult } from '../../wire/findings.ts'
import type { PreparedCurve, Row } from './curveModel.ts'
import {
  type FitPoint,
  type FitRequest,
  gridOf,
  type Laid,
  layCurve,
  scatterAt,
  systematicAt,
} from './layCurve.ts'

/** Robust deviations from the curve that make a point doubtful. */
const DOUBTFUL = 5
/** With fewer points beyond the parameters the curve bends to each of them, and none stands out. */
const FEWEST_TO_DOUBT = 3

/**
 * Lays a curve through points. The scatter of the points about it gives type A (s² from the residuals, n − p degrees
 * of freedom). For type B each instrument in turn is taken to be off by one standard uncertainty at all points at once
 * and the curve is laid again: its error is common to the points, so no number of them averages it away.
 * The best point gets its type A from resampled residuals.
 *
 * Where the abscissa scatters too, both scatters weigh (`fitCurveInBoth`).
 *
 * Source: JCGM 100:2008, 5.1.2 and G.4; Efron & Tibshirani 1993, ch. 9.
 */
export function fitCurve(request: FitRequest): TrialResult {
  const laid = layCurve(request)
  return 'lacking' in laid ? { isFitted: false, lacking: laid.lacking } : describeCurve(laid)
}

/** What people are shown of a curve. */
export function describeCurve(laid: Laid): FittedCurve {
  const { request, curve, rows, parameters, residuals, freedom, covariance } = laid
  return {
    isFitted: true,
    formula: curve.formula,
    parameters: curve.named.map((text, j) => ({
      ...text,
      ...parameterOf({
        value: parameters[j]!,
        typeA: { standard: Math.sqrt(covariance[j]![j]!), freedom },
        typeB: systematicAt(laid, (one) => one.parameters[j]!),
      }),
    })),
    points: rows.length,
    residualDeviation: laid.deviation,
    degreesOfFreedom: freedom,
    curve: bandOf(laid),
    best: request.best ? bestOf(laid) : null,
    residuals: request.points.map(({ number }, i) => ({ point: number, value: residuals[i]! })),
    doubtful: freedom < FEWEST_TO_DOUBT ? [] : doubtfulOf(request.points, residuals),
  }
}

interface Parts {
  value: number
  typeA: { standard: number; freedom: number }
  typeB: Systematic
}

function parameterOf({
  value,
  typeA,
  typeB,
}: Parts): Omit<FittedParameter, 'symbol' | 'name' | 'unit' | 'viewUnit'> {
  const half = expandTypes(typeA, typeB)
  return { value, typeA: typeA.standard, typeB: typeB.standard, low: value - half, high: value + half }
}

function bandOf(laid: Laid): FittedCurve['curve'] {
  const { curve, parameters, rows, freedom } = laid
  const grid = gridOf(rows)
  const y = grid.map((row) => curve.predict(parameters, row))
  const half = grid.map((row) => {
    const typeB = systematicAt(laid, (one) => curve.predict(one.parameters, row))
    return expandTypes({ standard: scatterAt(laid, row), freedom }, typeB)
  })
  return {
    x: grid.map((row) => row['x']!),
    y,
    low: y.map((value, i) => value - half[i]!),
    high: y.map((value, i) => value + half[i]!),
  }
}

function doubtfulOf(points: readonly FitPoint[], residuals: readonly number[]): number[] {
  const middle = median(residuals)
  const spread = 1.4826 * medianAbsoluteDeviation(residuals)
  return points
    .filter((_, i) => spread > 0 && Math.abs(residuals[i]! - middle) > DOUBTFUL * spread)
    .map((point) => point.number)
}

const DRAWS = 1000

/**
 * Highest place of the curve within the range of the points; its scatter comes from resampled residuals. Beyond the
 * points a curve says nothing, so the interval ends there at the latest and says so.
 */
function bestOf({ curve, rows, parameters, residuals, ...laid }: Laid): BestPoint {
  const { seed } = laid.request
  const shifted = [...laid.shifted.values()]
  const grid = gridOf(rows)
  const best = maximumOf(curve, parameters, grid)
  const fittedY = rows.map((row) => curve.predict(parameters, row))
  const heights: number[] = []
  const { estimates } = bootstrapResiduals({
    fitted: fittedY,
    residuals,
    estimate: (y) => {
      const drawn = curve.fit(rows.map((row, i) => ({ ...row, y: y[i]! })))
      const top = maximumOf(curve, drawn, grid)
      heights.push(top.y)
      return top.x
    },
    draws: DRAWS,
    random: createRandom(seed),
    parameters: parameters.length,
  })
  // Few points know their own scatter badly; the t-factor of their freedom over the normal one says how badly.
  const widening = studentQuantile(0.95, rows.length - parameters.length) / NORMAL_95
  const tops = shifted.map((one) => maximumOf(curve, one.parameters, gridOf(one.rows)))
  const ends = (value: number, draws: number[], shifts: number[]) =>
    join(value, symmetricInterval(draws, 0.95), { widening, typeB: Math.hypot(...shifts) })
  const x = ends(
    best.x,
    estimates,
    tops.map((one) => one.x - best.x),
  )
  const y = ends(
    best.y,
    heights,
    tops.map((one) => one.y - best.y),
  )
  const [first, last] = [grid[0]!['x']!, grid.at(-1)!['x']!]
  return {
    x: best.x,
    xLow: Math.max(first, x.low),
    xHigh: Math.min(last, x.high),
    isOpen: x.low < first || x.high > last,
    y: best.y,
    yLow: y.low,
    yHigh: y.high,
    isAtEnd: best.isAtEnd,
  }
}

/** Each end is as far away as type A and type B together put it. */
function join(
  value: number,
  drawn: Interval,
  { widening, typeB }: { widening: number; typeB: number },
): Interval {
  return {
    low: value - Math.hypot(widening * Math.max(0, value - drawn.low), NORMAL_95 * typeB),
    high: value + Math.hypot(widening * Math.max(0, drawn.high - value), NORMAL_95 * typeB),
  }
}

/** Highest place of the curve: the best of the grid, then a parabola through it and its neighbours. */
function maximumOf(curve: PreparedCurve, parameters: readonly number[], grid: readonly Row[]) {
  const y = grid.map((row) => curve.predict(parameters, row))
  const top = y.reduce((best, value, i) => (value > y[best]! ? i : best), 0)
  const isAtEnd = top === 0 || top === grid.length - 1
  if (isAtEnd) return { x: grid[top]!['x']!, y: y[top]!, isAtEnd }
  const [before, here, after] = [y[top - 1]!, y[top]!, y[top + 1]!]
  const bend = before - 2 * here + after
  const shift = bend === 0 ? 0 : (before - after) / (2 * bend)
  const step = grid[1]!['x']! - grid[0]!['x']!
  return { x: grid[top]!['x']! + shift * step, y: here - ((before - after) * shift) / 4, isAtEnd }
}
