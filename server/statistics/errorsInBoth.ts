/** Fits of points that scatter along both axes. */
import { fitNonlinear } from './nonlinearLeastSquares.ts'

/** Points with the standard deviation of each along both axes. */
export interface ScatteredPoints {
  x: readonly number[]
  y: readonly number[]
  ux: readonly number[]
  uy: readonly number[]
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
