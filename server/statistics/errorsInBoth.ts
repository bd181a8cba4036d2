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

const FOOT_STEPS = 12

/**
 * A curve through points with errors along both axes: least sum of squared distances, each in the deviations of its own
 * point, Σ min over x̂ of (y − f(x̂))²/u_y² + (x − x̂)²/u_x². For a straight line this is the sum that York minimises.
 *
 * @param curve Points, the curve as a function of parameters, point and abscissa, and a first guess.
 * @returns Parameters and the effective deviation of each point along y, √(u_y² + f′²·u_x²); `isSettled` false when they
 * mean nothing.
 *
 * Limits: u_y above zero everywhere; a smooth curve, whose nearest place to each point is found from the point itself.
 * Source: orthogonal distance regression, Boggs, Byrd & Schnabel 1987, SIAM J. Sci. Stat. Comput. 8:1052 (from memory).
 */
export function fitCurveInBoth(curve: CurveInBoth): FitInBoth {
  const { x, uy, start } = curve
  const fit = fitNonlinear({
    predict: (parameters) => x.map((_, i) => -signedDistance(curve, parameters, i)),
    y: x.map(() => 0),
    start,
  })
  const { parameters, isSettled } = fit
  const deviations = x.map((_, i) => {
    const foot = footOf(curve, parameters, i)
    return Math.hypot(uy[i]!, slopeAt(curve, parameters, { i, x: foot }) * curve.ux[i]!)
  })
  return { parameters, deviations, isSettled }
}

/** Above the curve positive; smooth through zero, unlike the distance itself. */
function signedDistance(curve: CurveInBoth, parameters: readonly number[], i: number): number {
  const { x, y, ux, uy, predict } = curve
  const above = y[i]! - predict(parameters, i, x[i]!)
  if (ux[i] === 0) return above / uy[i]!
  const foot = footOf(curve, parameters, i)
  const distance = Math.hypot((y[i]! - predict(parameters, i, foot)) / uy[i]!, (x[i]! - foot) / ux[i]!)
  return above < 0 ? -distance : distance
}

/** Abscissa of the place of the curve that is nearest to the point, by Gauss–Newton. */
function footOf(curve: CurveInBoth, parameters: readonly number[], i: number): number {
  const { x, y, ux, uy, predict } = curve
  if (ux[i] === 0) return x[i]!
  const [wx, wy] = [ux[i]! ** -2, uy[i]! ** -2]
  let foot = x[i]!
  for (let step = 0; step < FOOT_STEPS; step++) {
    const slope = slopeAt(curve, parameters, { i, x: foot })
    const move =
      ((x[i]! - foot) * wx + slope * (y[i]! - predict(parameters, i, foot)) * wy) / (wx + slope ** 2 * wy)
    foot += move
    if (Math.abs(move) < 1e-12 * ux[i]!) break
  }
  return foot
}

function slopeAt(
  { ux, predict }: CurveInBoth,
  parameters: readonly number[],
  { i, x }: { i: number; x: number },
): number {
  const h = 0.01 * ux[i]! || 1e-9
  return (predict(parameters, i, x + h) - predict(parameters, i, x - h)) / (2 * h)
}
