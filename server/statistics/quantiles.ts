/** Order statistics. A missing value (NaN) anywhere makes the result NaN: drop gaps first, knowingly. */

/**
 * Quantile by the interpolation most software uses (type 7): position (n − 1)p counted from 0.
 *
 * @param values Sample, any order; not changed.
 * @param probability p [–].
 * @returns The quantile. NaN for an empty sample or p outside 0–1.
 *
 * Limits: none.
 * Example: 1, 2, 3, 4 at 0.25 → 1.75.
 * Source: Hyndman & Fan 1996, Am. Stat. 50:361, type 7.
 */
export function quantileInterpolated(values: readonly number[], probability: number): number {
  return readSorted(values, (values.length - 1) * probability)
}

/**
 * Median: the middle value, or the mean of the two middle ones.
 *
 * @param values Sample, any order; not changed.
 * @returns The median; NaN for an empty sample.
 *
 * Limits: none.
 * Example: 3, 1, 2, 10 → 2.5.
 * Source: definition.
 */
export function median(values: readonly number[]): number {
  return quantileInterpolated(values, 0.5)
}

/**
 * Median absolute deviation from the median, not scaled:  MAD = median|xᵢ − median x|
 *
 * @param values Sample, any order; not changed.
 * @returns MAD in the unit of the values. Times 1.4826 it estimates σ of a normal sample.
 *
 * Limits: 0 when more than half the values are equal.
 * Example: 1, 1, 2, 2, 4, 6, 9 → 1.
 * Source: Hampel 1974, J. Am. Stat. Assoc. 69:383 (from memory).
 */
export function medianAbsoluteDeviation(values: readonly number[]): number {
  const middle = median(values)
  return median(values.map((value) => Math.abs(value - middle)))
}

/** Reads the sorted sample at a fractional position counted from 0. */
function readSorted(values: readonly number[], position: number): number {
  const last = values.length - 1
  // A position a rounding error outside the sample belongs to its end.
  const settled = Math.abs(position - Math.round(position)) < 1e-9 ? Math.round(position) : position
  if (!(settled >= 0 && settled <= last) || values.some(Number.isNaN)) return Number.NaN
  const sorted = Float64Array.from(values).sort()
  const below = Math.floor(settled)
  const low = sorted[below]!
  const high = sorted[Math.min(below + 1, last)]!
  return low + (settled - below) * (high - low)
}
