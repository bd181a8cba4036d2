/** Fits of points that scatter along both axes. */
import { fitNonlinear } from './nonlinearLeastSquares.ts'

/** Points with the standard deviation of each along both axes. */
export interface ScatteredPoints {
  x: readonly number[]
  y: readonly number[]
  ux: readonly number[]
  uy: readonly number[]
}

export interface LineInBoth {
  intercept: number
  slope: number
  /** Standard errors as the given deviations make them; not widened by a bad fit. */
  interceptError: number
  slopeError: number
  /** Σ of the weighted squares; about n − 2 where the deviations are right. */
  chiSquare: number
  degreesOfFreedom: number
}

const MOST_STEPS = 200
const SETTLED = 1e-15

/**
 * Straight line y = a + b·x through points with errors along both axes, correlated where `correlation` says so:
 * W = ω_x·ω_y/(ω_x + b²·ω_y − 2·b·r·√(ω_x·ω_y)), b = ΣWβV/ΣWβU, iterated.
 *
 * Use it where u(x)·|dy/dx| is not small against u(y) (more than a third): ordinary least squares then pulls the slope
 * towards zero by about u²(x)/var(x).
 * Limits: every deviation above zero, three points and more, not a vertical line.
 *
 * @param points Columns of equal length: x, y, their standard deviations, and `correlation` of both errors, default 0.
 * @returns Intercept and slope with their errors, and Σ of the weighted squares.
 * @throws {RangeError} for columns of unequal length or fewer than three points: a programming error.
 * Source: York, Evensen, Martínez & Delgado 2004, Am. J. Phys. 72:367, equations 13; checked with the data of Pearson
 * and the weights of York.
 */
export function fitLineInBoth(points: ScatteredPoints & { correlation?: readonly number[] }): LineInBoth {
  const { x, y, ux, uy, correlation = x.map(() => 0) } = points
  if (x.length < 3 || [y, ux, uy, correlation].some((column) => column.length !== x.length))
    throw new RangeError('fitLineInBoth: columns of equal length and at least three points')
  const of = { x, y, wx: ux.map((u) => u ** -2), wy: uy.map((u) => u ** -2), r: correlation }
  let slope = startSlope(x, y)
  for (let step = 0; step < MOST_STEPS; step++) {
    const next = adjusted(of, slope).slope
    const isSettled = Math.abs(next - slope) <= SETTLED * Math.abs(next)
    slope = next
    if (isSettled) break
  }
  return described(of, slope)
}

interface Weighted {
  x: readonly number[]
  y: readonly number[]
  wx: readonly number[]
  wy: readonly number[]
  r: readonly number[]
}

function adjusted({ x, y, wx, wy, r }: Weighted, slope: number) {
  const alpha = x.map((_, i) => Math.sqrt(wx[i]! * wy[i]!))
  const w = x.map(
    (_, i) => (wx[i]! * wy[i]!) / (wx[i]! + slope ** 2 * wy[i]! - 2 * slope * r[i]! * alpha[i]!),
  )
  const [meanX, meanY] = [weightedMean(x, w), weightedMean(y, w)]
  const u = x.map((value) => value - meanX)
  const v = y.map((value) => value - meanY)
  const beta = x.map(
    (_, i) =>
      w[i]! * (u[i]! / wy[i]! + (slope * v[i]!) / wx[i]! - ((slope * u[i]! + v[i]!) * r[i]!) / alpha[i]!),
  )
  const sum = (other: readonly number[]) => w.reduce((all, one, i) => all + one * beta[i]! * other[i]!, 0)
  return { slope: sum(v) / sum(u), w, beta, meanX, meanY }
}

function described(of: Weighted, slope: number): LineInBoth {
  const { w, beta, meanX, meanY } = adjusted(of, slope)
  const total = w.reduce((sum, one) => sum + one, 0)
  const places = beta.map((one) => meanX + one)
  const middle = weightedMean(places, w)
  const spread = w.reduce((sum, one, i) => sum + one * (places[i]! - middle) ** 2, 0)
  const intercept = meanY - slope * meanX
  const chiSquare = w.reduce((sum, one, i) => sum + one * (of.y[i]! - intercept - slope * of.x[i]!) ** 2, 0)
  return {
    intercept,
    slope,
    slopeError: Math.sqrt(1 / spread),
    interceptError: Math.sqrt(1 / total + middle ** 2 / spread),
    chiSquare,
    degreesOfFreedom: w.length - 2,
  }
}

function weightedMean(values: readonly number[], weights: readonly number[]): number {
  const total = weights.reduce((sum, one) => sum + one, 0)
  return values.reduce((sum, value, i) => sum + value * weights[i]!, 0) / total
}

function startSlope(x: readonly number[], y: readonly number[]): number {
  const ones = x.map(() => 1)
  const [meanX, meanY] = [weightedMean(x, ones), weightedMean(y, ones)]
  const spread = x.reduce((sum, value) => sum + (value - meanX) ** 2, 0)
  return x.reduce((sum, value, i) => sum + (value - meanX) * (y[i]! - meanY), 0) / spread
}

export interface CurveInBoth extends ScatteredPoints {
  /** Value of the curve for point i at another abscissa. */
  predict: (parameters: readonly number[], i: number, x: number) => number
  start: readonly number[]
}

export interface FitInBoth {
  parameters: number[]
  /** Effective deviation of each point along y: √(u_y² + (dy/dx)²·u_x²). */
  deviations: number[]
  isSettled: boolean
}

/**
 * A curve through points with errors along both axes: least Σ(y − f(x))²/(u_y² + f′(x)²·u_x²), with the weights free to
 * change with the parameters. For a straight line this is the very sum that York minimises; for a curve it neglects
 * how much f′ changes within u_x.
 *
 * @param curve Points, the curve as a function of parameters, point and abscissa, and a first guess.
 * @returns Parameters and the effective deviation of each point; `isSettled` false when they mean nothing.
 *
 * Limits: u_x small against the bends of the curve; every point has a deviation along one axis at least.
 * Source: effective variance, Orear 1982, Am. J. Phys. 50:912 (from memory).
 */
export function fitCurveInBoth(curve: CurveInBoth): FitInBoth {
  const { x, y, ux, uy, predict, start } = curve
  const deviationsAt = (parameters: readonly number[]) =>
    x.map((place, i) => {
      const h = ux[i]! === 0 ? 0 : ux[i]!
      const rise = h === 0 ? 0 : (predict(parameters, i, place + h) - predict(parameters, i, place - h)) / 2
      return Math.hypot(uy[i]!, rise)
    })
  const fit = fitNonlinear({
    predict: (parameters) => {
      const deviations = deviationsAt(parameters)
      return x.map((place, i) => (predict(parameters, i, place) - y[i]!) / deviations[i]!)
    },
    y: x.map(() => 0),
    start,
  })
  return {
    parameters: fit.parameters,
    deviations: deviationsAt(fit.parameters),
    isSettled: fit.isSettled,
  }
}
