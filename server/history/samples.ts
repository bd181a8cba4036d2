import type { SampleBatch } from './store.ts'

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

/** @throws {RangeError} when the columns differ in length: a programming error, never a sensor fault. */
export function checkColumns({ signals, at, value, quality }: SampleBatch): void {
  const rows = signals.length
  if (at.length === rows && value.length === rows && quality.length === rows) return
  throw new RangeError(
    `history append: ${rows} signals, ${at.length} times, ${value.length} values and ${quality.length} qualities; ` +
      'all four columns must have the same length',
  )
}
