import type { RangeQuery } from './store.ts'

export const MINUTE_MS = 60_000
export const HOUR_MS = 3_600_000
export const DAY_MS = 86_400_000

/** Longest answer of one query: signals × points. 2 M cells are about 50 MB while it is being made. */
export const CELL_LIMIT = 2_000_000
export const POINT_LIMIT = 5_000

/** What an answer is made from: single samples, or roll-ups of one minute or one hour. */
export type TierName = 'raw' | 'minute' | 'hour'

/** Length of one row of a roll-up [ms]; a raw sample has none. */
export const TIER_MS: Readonly<Record<TierName, number>> = { raw: 1, minute: MINUTE_MS, hour: HOUR_MS }

/** The buckets of one answer. Bucket i covers start + i·bucketMs … start + (i+1)·bucketMs, cut to from … to. */
export interface Grid {
  /** [ms UTC], whole milliseconds, inclusive. */
  from: number
  /** [ms UTC], whole milliseconds, exclusive. */
  to: number
  tier: TierName
  start: number
  bucketMs: number
  length: number
}

/**
 * The coarsest tier that still has a row for every bucket of this width.
 *
 * @param bucketMs Width asked for [ms].
 * @returns `hour` from 1 h on, `minute` from 1 min on, else `raw`.
 */
export function tierFor(bucketMs: number): TierName {
  if (bucketMs >= HOUR_MS) return 'hour'
  return bucketMs >= MINUTE_MS ? 'minute' : 'raw'
}

/**
 * Divides from … to into at most `points` buckets of equal width. Buckets of a roll-up tier begin and end on
 * its rows, so `start` may lie up to one row before `from`; samples before `from` stay out all the same.
 *
 * @param finest The finest tier that is still kept for the whole range.
 * @throws {RangeError} on a query that is no query: a programming error, the caller checks what people type.
 */
export function divideRange(query: RangeQuery, finest: TierName = 'raw'): Grid {
  checkRangeQuery(query)
  // samples lie on whole milliseconds, so this changes no membership
  const from = Math.ceil(query.from)
  const to = Math.max(from + 1, Math.ceil(query.to))
  const wanted = tierFor((to - from) / query.points)
  const tier = TIER_MS[wanted] >= TIER_MS[finest] ? wanted : finest
  const step = TIER_MS[tier]
  const start = Math.floor(from / step) * step
  const bucketMs = Math.ceil((to - start) / query.points / step) * step
  return { from, to, tier, start, bucketMs, length: Math.ceil((to - start) / bucketMs) }
}

function checkRangeQuery({ signals, from, to, points }: RangeQuery): void {
  if (!Number.isInteger(points) || points < 1 || points > POINT_LIMIT)
    throw new RangeError(
      `history query: points is ${points}, expected a whole number from 1 to ${POINT_LIMIT}`,
    )
  if (!(Math.abs(from) <= LAST_INSTANT && Math.abs(to) <= LAST_INSTANT && from < to))
    throw new RangeError(`history query: from is ${from} and to is ${to}, expected from < to in ms UTC`)
  if (signals.length * points > CELL_LIMIT)
    throw new RangeError(
      `history query: ${signals.length} signals at ${points} points are too many, expected a product of ${CELL_LIMIT} at most`,
    )
}

/** Largest time that a JavaScript Date can hold [ms UTC]. */
const LAST_INSTANT = 8.64e15
