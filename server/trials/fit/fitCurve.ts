import { median, medianAbsoluteDeviation } from '../../statistics/quantiles.ts'
import { expandTypes } from '../../statistics/uncertainty.ts'
import type { FittedCurve, FittedParameter, TrialResult } from '../../wire/findings.ts'
import { bestOf } from './bestOf.ts'
import { type FitPoint, type FitRequest, gridOf, type Laid, layCurve, scatterAt } from './layCurve.ts'

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
  const shifted = [...laid.shifted.values()]
  return {
    isFitted: true,
    formula: curve.formula,
    parameters: curve.named.map((text, j) => ({
      ...text,
      ...parameterOf({
        value: parameters[j]!,
        typeA: Math.sqrt(covariance[j]![j]!),
        typeB: Math.hypot(...shifted.map((one) => one.parameters[j]! - parameters[j]!)),
        freedom,
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
  typeA: number
  typeB: number
  freedom: number
}

function parameterOf({
  value,
  typeA,
  typeB,
  freedom,
}: Parts): Omit<FittedParameter, 'symbol' | 'name' | 'unit' | 'viewUnit'> {
  const half = expandTypes(typeA, typeB, freedom)
  return { value, typeA, typeB, low: value - half, high: value + half }
}

function bandOf(laid: Laid): FittedCurve['curve'] {
  const { curve, parameters, rows, freedom } = laid
  const grid = gridOf(rows)
  const y = grid.map((row) => curve.predict(parameters, row))
  const half = grid.map((row, i) => {
    const shifts = [...laid.shifted.values()].map((one) => curve.predict(one.parameters, row) - y[i]!)
    return expandTypes(scatterAt(laid, row), Math.hypot(...shifts), freedom)
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
