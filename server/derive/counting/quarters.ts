/** So long is the span of which totals are kept apart, and counted anew as a whole [ms]: every local day is whole ones. */
export const QUARTER_MS = 900_000

/** Start of the quarter of an hour that a moment lies in [ms UTC]. */
export function quarterOf(at: number): number {
  return Math.floor(at / QUARTER_MS) * QUARTER_MS
}

/** Calls for each quarter that a span touches, with the part of the span inside it. */
export function eachQuarter(
  { from, to }: { from: number; to: number },
  take: (quarter: number, from: number, to: number) => void,
): void {
  for (let begin = from; begin < to; ) {
    const quarter = quarterOf(begin)
    const end = Math.min(quarter + QUARTER_MS, to)
    take(quarter, begin, end)
    begin = end
  }
}
