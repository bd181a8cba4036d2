import { median, medianAbsoluteDeviation } from '../../statistics/quantiles.ts'
import { expandTypes } from '../../statistics/uncertainty.ts'
import type { FittedCurve, TrialResult } from '../../wire/findings.ts'
import { column, type FitPoint, type FitRequest, gridOf, type Laid, systematicFrom } from './laid.ts'
import { layCurve } from './layCurve.ts'

/** Robust deviations from the curve that make a point doubtful. */
const DOUBTFUL = 5
/** With fewer points beyond the parameters the curve bends to each of them, and none stands out. */
const FEWEST_TO_DOUBT = 3

/**
 * Lays a curve through points. The scatter of the points about it gives type A (s² from the residuals, n − p degrees
 * of freedom). For type B each instrument in turn is taken to be off by one standard uncertainty at all points at once
 * and the curve is laid again: its error is common to the points, so no number of them averages it away.
 *
 * Where the abscissa scatters too, both scatters weigh (`fitCurveInBoth`).
 *
 * Source: JCGM 100:2008, 5.1.2 and G.4.
 */
export function fitCurve(request: FitRequest): TrialResult {
  const laid = layCurve(request)
  return 'lacking' in laid ? { isFitted: false, lacking: laid.lacking } : describeCurve(laid)
}

/** What people are shown of a curve. */
export function describeCurve(laid: Laid): FittedCurve {
  const { request, formula, rows, parameters, freedom, deviation, residuals } = laid
  return {
    isFitted: true,
    formula,
    parameters,
    points: rows.length,
    residualDeviation: deviation,
    degreesOfFreedom: freedom,
    curve: bandOf(laid),
    best: request.best ? (laid.best?.() ?? null) : null,
    residuals: request.points.map(({ number }, i) => ({ point: number, value: residuals[i]! })),
    doubtful: freedom < FEWEST_TO_DOUBT ? [] : doubtfulOf(request.points, residuals),
  }
}

function bandOf(laid: Laid): FittedCurve['curve'] {
  const grid = gridOf(laid.rows)
  const y = laid.heightsAt(grid)
  const scatter = laid.scatterAt(grid)
  const moved = new Map([...laid.instruments.keys()].map((one) => [one, laid.heightsAt(grid, one)]))
  const half = y.map((height, i) => {
    const typeB = systematicFrom(laid.instruments, (one) => moved.get(one)![i]! - height)
    return expandTypes({ standard: scatter[i]!, freedom: laid.freedom }, typeB)
  })
  return {
    x: column(grid, 'x'),
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
