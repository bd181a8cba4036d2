import { fitCurveInBoth } from '../../statistics/errorsInBoth.ts'
import { covarianceAt, jacobianOf } from '../../statistics/nonlinearLeastSquares.ts'
import { expandTypes, systematicOf } from '../../statistics/uncertainty.ts'
import type { FittedParameter } from '../../wire/findings.ts'
import { isConstantSource } from '../constants.ts'
import type { CurveModel, PreparedCurve, Row } from './curveModel.ts'
import {
  column,
  type FitRequest,
  instrumentsOf,
  type Laid,
  type LaidLaw,
  movedBy,
  rowsOf,
  tooFew,
} from './laid.ts'

/** Lays a law with a fixed number of parameters through the points, or says why not. */
export function layLaw(request: FitRequest, law: CurveModel): Laid | { lacking: string } {
  const rows = rowsOf(request)
  if (rows.length < law.fewest) return tooFew(rows.length, law.fewest)
  const curve = law.prepare(rows)
  if ('lacking' in curve) return curve
  const { parameters, weights } = through(request, curve, rows)
  if (!parameters.every(Number.isFinite))
    return {
      lacking: 'No curve of this form can be laid through these points. Take more of them, further apart.',
    }
  const residuals = rows.map((row) => row['y']! - curve.predict(parameters, row))
  const freedom = rows.length - parameters.length
  const laid = { request, curve, rows, parameters, freedom, residuals }
  return toldOf({ ...laid, covariance: covarianceOf(laid, weights), shifted: shiftedFits(laid) })
}

function toldOf(law: LaidLaw): Laid {
  const { request, curve, rows, parameters, freedom, residuals, shifted } = law
  const instruments = instrumentsOf(request)
  return {
    request,
    formula: curve.formula,
    rows,
    parameters: curve.named.map((_, j) => parameterOf(law, j, instruments)),
    freedom,
    residuals,
    deviation: Math.sqrt(residuals.reduce((sum, r) => sum + r * r, 0) / freedom),
    instruments,
    heightsAt(places, instrument) {
      const own = (instrument && shifted.get(instrument)?.level) || parameters
      return places.map((row) => curve.predict(own, row))
    },
    scatterAt: (places) => places.map((row) => scatterAt(law, row)),
  }
}

function parameterOf(
  { curve, parameters, covariance, freedom, shifted }: LaidLaw,
  j: number,
  instruments: ReadonlyMap<string, number>,
): FittedParameter {
  const value = parameters[j]!
  const typeA = { standard: Math.sqrt(covariance[j]![j]!), freedom }
  const typeB = systematicOf(
    [...instruments].flatMap(([instrument, flat]) => {
      const { level, tilt } = shifted.get(instrument)!
      const [alike, apart] = [level[j]! - value, TILT * (tilt[j]! - value)]
      return [
        { standard: alike, rectangular: alike * flat },
        { standard: apart, rectangular: 0 },
      ]
    }),
  )
  const half = expandTypes(typeA, typeB)
  const types = { typeA: typeA.standard, typeB: typeB.standard }
  return { ...curve.named[j]!, value, ...types, low: value - half, high: value + half }
}

/** Parameters, and the standard deviation of each point along y where those are known. */
function through(
  { inBoth, points }: FitRequest,
  curve: PreparedCurve,
  rows: readonly Row[],
): { parameters: number[]; weights?: number[] } {
  const start = curve.fit(rows)
  const scatter = points.map((point) => point.scatter)
  if (!inBoth || !start.every(Number.isFinite) || !scatter.every((one) => (one?.['y'] ?? 0) > 0))
    return { parameters: start }
  const { parameters, deviations, isSettled } = fitCurveInBoth({
    x: column(rows, 'x'),
    y: column(rows, 'y'),
    ux: scatter.map((one) => one!['x'] ?? 0),
    uy: scatter.map((one) => one!['y']!),
    predict: (tried, i, x) => curve.predict(tried, { ...rows[i]!, x }),
    start,
  })
  return isSettled ? { parameters, weights: deviations } : { parameters: start }
}

type Uncertain = Omit<LaidLaw, 'covariance' | 'shifted'>

/**
 * With known deviations the points are weighted by them, and s² is what the points scatter about the curve against what
 * those say. It may be below 1: in a window both axes often sway together, along the curve.
 */
function covarianceOf({ curve, rows, parameters, residuals }: Uncertain, weights?: number[]) {
  const weighted = (values: readonly number[]) => values.map((value, i) => value / (weights?.[i] ?? 1))
  const predict = (tried: readonly number[]) => weighted(rows.map((row) => curve.predict(tried, row)))
  return covarianceAt(predict, parameters, weighted(residuals))
}

/**
 * What may change of an instrument's error between the ends of a run (linearity, hysteresis, drift), of its whole standard
 * uncertainty; the rest stays. A slope knows nothing of an error that stays and everything of this.
 *
 * Source: common practice, no source; drawn instruments bear it out (test/support/slopeCells.ts).
 */
const TILT = 0.25

/** Each instrument off by one standard uncertainty, in turn. A constant errs alike everywhere. */
function shiftedFits({ request, curve, rows, parameters }: Uncertain): LaidLaw['shifted'] {
  const x = column(rows, 'x')
  const [low, high] = [Math.min(...x), Math.max(...x)]
  const place = (row: Row) => (high > low ? (2 * row['x']! - low - high) / (high - low) : 0)
  const fitted = (moved: Row[]) => {
    const found = through(request, curve, moved).parameters
    return found.every(Number.isFinite) ? found : parameters
  }
  return new Map(
    [...instrumentsOf(request).keys()].map((one) => [
      one,
      {
        level: fitted(movedBy(one, request)),
        tilt: isConstantSource(one) ? parameters : fitted(movedBy(one, request, place)),
      },
    ]),
  )
}

/** Standard uncertainty of the height of the curve at a place, from scatter. */
function scatterAt({ curve, parameters, covariance }: LaidLaw, row: Row): number {
  const slopes = jacobianOf((tried) => [curve.predict(tried, row)], parameters).map((column) => column[0]!)
  const variance = covariance.reduce(
    (sum, line, j) => sum + slopes[j]! * line.reduce((inner, value, k) => inner + value * slopes[k]!, 0),
    0,
  )
  return Math.sqrt(Math.max(0, variance))
}
