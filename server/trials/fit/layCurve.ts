import { fitCurveInBoth } from '../../statistics/errorsInBoth.ts'
import { covarianceAt, jacobianOf } from '../../statistics/nonlinearLeastSquares.ts'
import { type Systematic, systematicOf } from '../../statistics/uncertainty.ts'
import type { PreparedCurve, Row } from './curveModel.ts'
import { models } from './models/index.ts'

/** Everything that a fit needs; plain values, so that it can go to another thread. */
export interface FitRequest {
  model: string
  points: FitPoint[]
  /** Constants by symbol. */
  constants: Record<string, number>
  /** Whether the maximum is wanted. */
  best: boolean
  /** The same seed gives the same intervals. */
  seed: number
  /** The points scatter along the abscissa as well: both scatters weigh. */
  inBoth?: boolean
}

export interface FitPoint {
  number: number
  /** Means by symbol: x, y and others. */
  means: Record<string, number>
  /** By instrument, what its accuracy does to each symbol; the same sign at every point. */
  typeB: Record<string, Record<string, number>>
  /** By instrument, which share of that is of rectangular limits; absent: none. */
  flat?: Record<string, number>
  /** Standard deviation of each mean from scatter, by symbol; needed where both axes scatter. */
  scatter?: Record<string, number>
}

const GRID = 60

/** A curve that lies through points, with what is needed to say how well. */
export interface Laid {
  request: FitRequest
  curve: PreparedCurve
  rows: Row[]
  parameters: number[]
  freedom: number
  /** Scatter of the points about the curve, along y. */
  residuals: number[]
  deviation: number
  /** Of the parameters, from scatter. */
  covariance: number[][]
  /** As it would be if one instrument were off by one standard uncertainty; by instrument. */
  shifted: Map<string, Shifted>
}

/** The points, and the parameters through them, as they would be if one instrument were off. */
export interface Shifted {
  rows: Row[]
  parameters: number[]
  /** Share of the standard uncertainty that is of rectangular limits. */
  flat: number
}

/** Lays the curve, or says in a sentence why not. */
export function layCurve(request: FitRequest): Laid | { lacking: string } {
  const model = models.get(request.model)
  if (!model) throw new RangeError(`layCurve: no curve "${request.model}"`)
  const rows = request.points.map((point) => ({ ...request.constants, ...point.means }))
  if (rows.length < model.fewest)
    return { lacking: `${rows.length} of at least ${model.fewest} points that the curve needs.` }
  const curve = model.prepare(rows)
  if ('lacking' in curve) return curve
  const { parameters, weights } = through(request, curve, rows)
  if (!parameters.every(Number.isFinite))
    return {
      lacking: 'No curve of this form can be laid through these points. Take more of them, further apart.',
    }
  const residuals = rows.map((row) => row['y']! - curve.predict(parameters, row))
  const freedom = rows.length - parameters.length
  const deviation = Math.sqrt(residuals.reduce((sum, r) => sum + r * r, 0) / freedom)
  const laid = { request, curve, rows, parameters, freedom, residuals, deviation }
  return { ...laid, covariance: covarianceOf(laid, weights), shifted: shiftedFits(laid) }
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
    x: rows.map((row) => row['x']!),
    y: rows.map((row) => row['y']!),
    ux: scatter.map((one) => one!['x'] ?? 0),
    uy: scatter.map((one) => one!['y']!),
    predict: (tried, i, x) => curve.predict(tried, { ...rows[i]!, x }),
    start,
  })
  return isSettled ? { parameters, weights: deviations } : { parameters: start }
}

type Uncertain = Omit<Laid, 'covariance' | 'shifted'>

/**
 * With known deviations the points are weighted by them, and s² is what the points scatter about the curve against what
 * those say. It may be below 1: in a window both axes often sway together, along the curve.
 */
function covarianceOf({ curve, rows, parameters, residuals }: Uncertain, weights?: number[]) {
  const weighted = (values: readonly number[]) => values.map((value, i) => value / (weights?.[i] ?? 1))
  const predict = (tried: readonly number[]) => weighted(rows.map((row) => curve.predict(tried, row)))
  return covarianceAt(predict, parameters, weighted(residuals))
}

/** Each instrument off by one standard uncertainty, in turn. */
function shiftedFits({ request, curve, rows, parameters }: Uncertain): Map<string, Shifted> {
  const { points } = request
  const instruments = [...new Set(points.flatMap((point) => Object.keys(point.typeB)))]
  return new Map(
    instruments.map((instrument): [string, Shifted] => {
      const moved = rows.map((row, i) => {
        const shifts = points[i]!.typeB[instrument] ?? {}
        return { ...row, ...mapValues(shifts, (shift, symbol) => row[symbol]! + shift) }
      })
      const found = through(request, curve, moved).parameters
      const flat = Math.max(...points.map((point) => point.flat?.[instrument] ?? 0))
      return [
        instrument,
        { rows: moved, parameters: found.every(Number.isFinite) ? found : parameters, flat },
      ]
    }),
  )
}

function mapValues(
  record: Record<string, number>,
  change: (value: number, key: string) => number,
): Record<string, number> {
  return Object.fromEntries(Object.entries(record).map(([key, value]) => [key, change(value, key)]))
}

/** What the instruments do to a number that follows from the parameters, each off in turn. */
export function systematicAt(laid: Laid, read: (one: Shifted | Laid) => number): Systematic {
  const here = read(laid)
  return systematicOf(
    [...laid.shifted.values()].map((one) => {
      const standard = read(one) - here
      return { standard, rectangular: standard * one.flat }
    }),
  )
}

/** Standard uncertainty of the height of the curve at a place, from scatter. */
export function scatterAt({ curve, parameters, covariance }: Laid, row: Row): number {
  const slopes = jacobianOf((tried) => [curve.predict(tried, row)], parameters).map((column) => column[0]!)
  const variance = covariance.reduce(
    (sum, line, j) => sum + slopes[j]! * line.reduce((inner, value, k) => inner + value * slopes[k]!, 0),
    0,
  )
  return Math.sqrt(Math.max(0, variance))
}

/** Places along the abscissa; everything else is the mean of the points. */
export function gridOf(rows: readonly Row[]): Row[] {
  const x = rows.map((row) => row['x']!)
  const [low, high] = [Math.min(...x), Math.max(...x)]
  const middle = Object.fromEntries(
    Object.keys(rows[0]!).map((symbol) => [
      symbol,
      rows.reduce((sum, row) => sum + row[symbol]!, 0) / rows.length,
    ]),
  )
  return Array.from({ length: GRID }, (_, i) => ({ ...middle, x: low + ((high - low) * i) / (GRID - 1) }))
}
