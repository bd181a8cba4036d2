/** Smallest span of the value axis as a share of the values, so that noise does not look like an event. */
const LEAST_SPAN = 0.02
const PADDING = 0.08

/**
 * Ends of the value axis. Several lines on one axis are compared by length, so they stand on zero; a single
 * line is read for change, so it may not, unless it comes near zero anyway.
 */
export function valueRange(min: number | null, max: number | null, lines: number): [number, number] {
  if (min === null || max === null || !Number.isFinite(min) || !Number.isFinite(max)) return [0, 1]
  const size = Math.max(Math.abs(min), Math.abs(max))
  if (size === 0) return [0, 1]
  const span = Math.max(max - min, size * LEAST_SPAN)
  const middle = (min + max) / 2
  const low = middle - span * (0.5 + PADDING)
  const high = middle + span * (0.5 + PADDING)
  const isZeroBased = min >= 0 && (lines > 1 || max - min > 0.4 * max)
  return [isZeroBased || (min >= 0 && low < 0) ? 0 : low, high]
}
