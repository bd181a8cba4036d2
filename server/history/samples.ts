import type { Rewrite, SampleBatch, SamplesQuery, SamplesReply } from './store.ts'

/** Rows at or after this instant (year 10000) cannot be times of measurement [ms UTC]. */
const END_OF_TIME = 253_402_300_800_000
const LONGEST_NAME = 200
/** Control characters and halves of surrogate pairs: they would not come back from a file as they went in. */
const UNFIT = /[\p{Cc}\p{Cs}]/u

/** True for a name that a history store can keep: 1 … 200 characters, no control characters. */
export function isSignalName(name: string): boolean {
  return name.length > 0 && name.length <= LONGEST_NAME && !UNFIT.test(name)
}

/** True for a time of measurement from 1970 to 9999 [ms UTC]. */
export function isInstant(at: number): boolean {
  return at >= 0 && at < END_OF_TIME
}

/** Most rows of one answer. */
const MOST_ROWS = 500_000

/** @throws {RangeError} for a span, a lead or a limit that cannot be: a programming error. */
export function checkSamplesQuery({ from, to, lead, limit }: SamplesQuery): void {
  const isSpan = isInstant(from) && isInstant(to) && from < to
  if (isSpan && lead >= 0 && Number.isInteger(limit) && limit >= 1 && limit <= MOST_ROWS) return
  throw new RangeError(
    `history samples: from ${from} to ${to}, lead ${lead}, limit ${limit}; expected from before to, lead of 0 or more, ` +
      `limit 1 to ${MOST_ROWS}`,
  )
}

export interface SampleRow {
  /** Place of the signal in the query. */
  place: number
  at: number
  value: number
  quality: number
}

/**
 * The answer from rows that are sorted by time and may be one more than the limit. What shares its moment with the
 * first row beyond the limit is left for the next question, so that none is split.
 */
export function samplesReply(rows: readonly SampleRow[], { from, to, limit }: SamplesQuery): SamplesReply {
  const isCut = rows.length > limit
  const through = isCut ? Math.max(rows[limit]!.at, from) : to
  const given = isCut ? rows.filter((row) => row.at < through) : rows
  return {
    signal: Uint16Array.from(given, (row) => row.place),
    at: Float64Array.from(given, (row) => row.at),
    value: Float64Array.from(given, (row) => row.value),
    quality: Uint8Array.from(given, (row) => row.quality),
    through,
  }
}

/** @throws {RangeError} for a span that cannot be, or for rows of other signals or outside it: a programming error. */
export function checkRewrite({ signals, from, to, rows }: Rewrite): void {
  checkColumns(rows)
  const known = new Set(signals)
  const isSpan = isInstant(from) && isInstant(to) && from < to
  const stray = rows.signals.findIndex(
    (signal, i) => !known.has(signal) || !(rows.at[i]! >= from && rows.at[i]! < to),
  )
  if (isSpan && signals.every(isSignalName) && stray < 0) return
  throw new RangeError(
    `history rewrite: from ${from} to ${to}, row ${stray} of ${rows.signals[stray]} at ${rows.at[stray]}; ` +
      'expected from before to, and rows of these signals within the span',
  )
}

/** @throws {RangeError} when the columns differ in length: a programming error, never a sensor fault. */
export function checkColumns({ signals, at, value, quality }: SampleBatch): void {
  const rows = signals.length
  if (at.length === rows && value.length === rows && quality.length === rows) return
  throw new RangeError(
    `history append: ${rows} signals, ${at.length} times, ${value.length} values and ${quality.length} qualities; ` +
      'all four columns must have the same length',
  )
}
