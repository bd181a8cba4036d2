import { QUARTER_MS, quarterOf } from './quarters.ts'
import type { CountedDay, Tally } from './tally.ts'

/** What several counters gave in the time in which all of them are known. */
export interface CommonSums {
  /** In the order of the counters. */
  amounts: number[]
  uncertainSeconds: number
  /** Time that is left out, since a part of it is not known to one of them [s]. */
  leftOutSeconds: number
}

/** So much of a quarter of an hour [s] may be missing to one of them. */
const MISSING_S = 9

/**
 * A meter goes on counting while nobody listens, what is integrated does not: their totals are of different times, and a
 * ratio of them is of nothing. Days that are whole count as they are, of others the quarters that are.
 *
 * @param days Of each counter, of the same dates.
 */
export function commonSums(
  tallies: readonly Tally[],
  days: readonly (readonly CountedDay[])[],
  { begin, now }: { begin: number; now: number },
): CommonSums {
  const sums: CommonSums = { amounts: tallies.map(() => 0), uncertainSeconds: 0, leftOutSeconds: 0 }

  function add(parts: readonly { value: number; uncertainSeconds: number }[]): void {
    sums.amounts = sums.amounts.map((sum, i) => sum + (parts[i]?.value ?? 0))
    sums.uncertainSeconds += Math.max(...parts.map((one) => one.uncertainSeconds))
  }

  function addQuarters({ start, end }: CountedDay): void {
    const span = { from: Math.max(start, quarterOf(begin)), to: Math.min(end, now) }
    const rows = tallies.map((tally) => new Map(tally.quarters(span).map((row) => [row.quarter, row])))
    for (let quarter = span.from; quarter < span.to; quarter += QUARTER_MS) {
      const parts = rows.flatMap((ofTally) => ofTally.get(quarter) ?? [])
      const isKnown = parts.length === tallies.length && parts.every((one) => one.gapSeconds <= MISSING_S)
      if (isKnown) add(parts)
      else sums.leftOutSeconds += (Math.min(quarter + QUARTER_MS, span.to) - Math.max(quarter, begin)) / 1000
    }
  }

  for (const [n, day] of (days[0] ?? []).entries()) {
    const same = days.map((list) => list[n]!)
    if (same.every((one) => one.gapSeconds <= MISSING_S)) add(same)
    else addQuarters(day)
  }
  return sums
}
