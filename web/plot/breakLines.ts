import { NOT_GIVEN } from '../hold/trendRows.ts'

/**
 * What the chart draws for one column: null breaks the line, undefined lets it pass.
 *
 * A line breaks by time, not by empty rows: a sensor that speaks once a minute is not silent between two
 * words, but an hour without any is a hole that must not be bridged. It also breaks where a value was due
 * and could not be given.
 *
 * @param at Times of the rows [ms], ascending.
 * @param column Same length; NaN = no sample, Infinity = not given.
 * @param longestMs Longest time [ms] between two samples that a line may bridge.
 */
export function breakLines(
  at: readonly number[],
  column: readonly number[],
  longestMs: number,
): (number | null | undefined)[] {
  const drawn: (number | null | undefined)[] = new Array(column.length).fill(undefined)
  let last = -1
  for (let i = 0; i < column.length; i++) {
    const value = column[i]!
    if (value === NOT_GIVEN) drawn[i] = null
    if (!Number.isFinite(value)) continue
    drawn[i] = value
    if (last >= 0 && at[i]! - at[last]! > longestMs) drawn.fill(null, last + 1, i)
    last = i
  }
  return drawn
}

/**
 * Longest time a line may bridge: until the figure counts as stale, but never less than two rows. What is
 * sent only on change (null) holds until the next value.
 */
export function longestBridge(staleAfterMs: number | null, bucketMs: number): number {
  return staleAfterMs === null ? Number.POSITIVE_INFINITY : Math.max(staleAfterMs, 2 * bucketMs)
}
