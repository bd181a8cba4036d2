/** A curve given by points, straight lines between them. */

/** Abscissas rise strictly; both columns are of equal length, at least two. */
export interface PointCurve {
  readonly x: readonly number[]
  readonly y: readonly number[]
}

/**
 * Linear interpolation in a table:  y = y₀ + (y₁ − y₀)(x − x₀)/(x₁ − x₀)
 *
 * @param curve Points with rising x.
 * @param x Where to read the curve.
 * @returns y there. NaN outside the table: nothing is known there, and nothing is extrapolated.
 * @throws {RangeError} when the columns differ in length or hold fewer than two points: a programming error.
 *
 * Limits: first to last x of the table.
 * Example: x 0, 1 and y 10, 20 read at 0.25 → 12.5.
 * Source: elementary.
 */
export function interpolate(curve: PointCurve, x: number): number {
  const { x: xs, y: ys } = curve
  if (xs.length !== ys.length || xs.length < 2) {
    throw new RangeError(`interpolate: ${xs.length} abscissas and ${ys.length} ordinates; need equal, ≥ 2`)
  }
  if (!(x >= xs[0]! && x <= xs.at(-1)!)) return Number.NaN
  let right = 1
  while (right < xs.length - 1 && xs[right]! < x) right += 1
  const [x0, x1, y0, y1] = [xs[right - 1]!, xs[right]!, ys[right - 1]!, ys[right]!]
  return y0 + ((y1 - y0) * (x - x0)) / (x1 - x0)
}
