import {
  bootstrapResiduals,
  createRandom,
  expandUncertainty,
  type Interval,
  jacobianOf,
  median,
  medianAbsoluteDeviation,
  solveLeastSquares,
  studentQuantile,
  symmetricInterval,
} from '../../statistics/index.ts'
import type { BestPoint, FittedCurve, FittedParameter, TrialResult } from '../../wire/trial.ts'
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
}

export interface FitPoint {
  number: number
  /** Means by symbol: x, y and others. */
  means: Record<string, number>
  /** By instrument, what its accuracy does to each symbol; the same sign at every point. */
  typeB: Record<string, Record<string, number>>
}

const GRID = 60
const DRAWS = 1000
/** Robust deviations from the curve that make a point doubtful. */
const DOUBTFUL = 5

/**
 * Lays a curve through points. The scatter of the points about it gives type A (s² from the residuals, n − p degrees
 * of freedom). For type B each instrument in turn is taken to be off by one standard uncertainty at all points at once
 * and the curve is laid again: its error is common to the points, so no number of them averages it away.
 * The best point gets its type A from resampled residuals.
 *
 * Source: JCGM 100:2008, 5.1.2 and G.4; Efron & Tibshirani 1993, ch. 9.
 */
export function fitCurve(request: FitRequest): TrialResult {
  const model = models.get(request.model)
  if (!model) throw new RangeError(`fitCurve: no curve "${request.model}"`)
  const rows = request.points.map((point) => ({ ...request.constants, ...point.means }))
  if (rows.length < model.fewest)
    return lacking(`${rows.length} of at least ${model.fewest} points that the curve needs.`)
  const curve = model.prepare(rows)
  if ('lacking' in curve) return lacking(curve.lacking)
  const parameters = curve.fit(rows)
  if (!parameters.every(Number.isFinite))
    return lacking(
      'No curve of this form can be laid through these points. Take more of them, further apart.',
    )
  return describe(request, { curve, rows, parameters })
}

function lacking(sentence: string): TrialResult {
  return { isFitted: false, lacking: sentence }
}

interface Fitted {
  curve: PreparedCurve
  rows: Row[]
  parameters: number[]
}

function describe(request: FitRequest, fitted: Fitted): FittedCurve {
  const { curve, rows, parameters } = fitted
  const residuals = rows.map((row) => row['y']! - curve.predict(parameters, row))
  const freedom = rows.length - parameters.length
  const deviation = Math.sqrt(residuals.reduce((sum, r) => sum + r * r, 0) / freedom)
  const covariance = covarianceOf(fitted, deviation)
  const shifted = shiftedFits(request, fitted)
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
    residualDeviation: deviation,
    degreesOfFreedom: freedom,
    curve: bandOf(fitted, { covariance, shifted, freedom }),
    best: request.best ? bestOf(fitted, { shifted, residuals, seed: request.seed }) : null,
    residuals: request.points.map(({ number }, i) => ({ point: number, value: residuals[i]! })),
    doubtful: doubtfulOf(request.points, residuals),
  }
}

function covarianceOf({ curve, rows, parameters }: Fitted, deviation: number): number[][] {
  const jacobian = jacobianOf((tried) => rows.map((row) => curve.predict(tried, row)), parameters)
  const { unscaledCovariance } = solveLeastSquares(
    jacobian,
    rows.map(() => 0),
  )
  return unscaledCovariance.map((row) => row.map((value) => value * deviation ** 2))
}

/** The points, and the parameters through them, as they would be if one instrument were off. */
interface Shifted {
  rows: Row[]
  parameters: number[]
}

/** Each instrument off by one standard uncertainty, in turn. */
function shiftedFits({ points }: FitRequest, { curve, rows, parameters }: Fitted): Shifted[] {
  const instruments = [...new Set(points.flatMap((point) => Object.keys(point.typeB)))]
  return instruments.map((instrument) => {
    const moved = rows.map((row, i) => {
      const shifts = points[i]!.typeB[instrument] ?? {}
      return { ...row, ...mapValues(shifts, (shift, symbol) => row[symbol]! + shift) }
    })
    const found = curve.fit(moved)
    return { rows: moved, parameters: found.every(Number.isFinite) ? found : parameters }
  })
}

function mapValues(
  record: Record<string, number>,
  change: (value: number, key: string) => number,
): Record<string, number> {
  return Object.fromEntries(Object.entries(record).map(([key, value]) => [key, change(value, key)]))
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
  const half = halfWidth(typeA, typeB, freedom)
  return { value, typeA, typeB, low: value - half, high: value + half }
}

function halfWidth(typeA: number, typeB: number, freedom: number): number {
  if (typeA === 0 && typeB === 0) return 0
  const parts = [
    { uncertainty: typeA, degreesOfFreedom: freedom },
    { uncertainty: typeB, degreesOfFreedom: Number.POSITIVE_INFINITY },
  ].filter((part) => part.uncertainty > 0)
  return expandUncertainty(parts, 0.95).expanded
}

interface Spread {
  covariance: number[][]
  shifted: Shifted[]
  freedom: number
}

function bandOf(fitted: Fitted, { covariance, shifted, freedom }: Spread): FittedCurve['curve'] {
  const { curve, parameters } = fitted
  const grid = gridOf(fitted.rows)
  const y = grid.map((row) => curve.predict(parameters, row))
  const jacobian = jacobianOf((tried) => grid.map((row) => curve.predict(tried, row)), parameters)
  const half = grid.map((row, i) => {
    const slopes = jacobian.map((column) => column[i]!)
    const variance = covariance.reduce(
      (sum, line, j) => sum + slopes[j]! * line.reduce((inner, value, k) => inner + value * slopes[k]!, 0),
      0,
    )
    const typeB = Math.hypot(...shifted.map((one) => curve.predict(one.parameters, row) - y[i]!))
    return halfWidth(Math.sqrt(Math.max(0, variance)), typeB, freedom)
  })
  return {
    x: grid.map((row) => row['x']!),
    y,
    low: y.map((value, i) => value - half[i]!),
    high: y.map((value, i) => value + half[i]!),
  }
}

/** Places along the abscissa; everything else is the mean of the points. */
function gridOf(rows: readonly Row[]): Row[] {
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

interface Scatter {
  shifted: Shifted[]
  residuals: number[]
  seed: number
}

function bestOf(fitted: Fitted, { shifted, residuals, seed }: Scatter): BestPoint {
  const { curve, rows, parameters } = fitted
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
  const widening = studentQuantile(0.95, rows.length - parameters.length) / 1.96
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
  return {
    x: best.x,
    xLow: x.low,
    xHigh: x.high,
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
    low: value - Math.hypot(widening * Math.max(0, value - drawn.low), 1.96 * typeB),
    high: value + Math.hypot(widening * Math.max(0, drawn.high - value), 1.96 * typeB),
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

function doubtfulOf(points: readonly FitPoint[], residuals: readonly number[]): number[] {
  const middle = median(residuals)
  const spread = 1.4826 * medianAbsoluteDeviation(residuals)
  return points
    .filter((_, i) => spread > 0 && Math.abs(residuals[i]! - middle) > DOUBTFUL * spread)
    .map((point) => point.number)
}
