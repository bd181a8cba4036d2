import type { DayTotal, QuarterRow } from './storedCounter.ts'

/** What a counter gave in whole quarters of an hour, counted anew from the readings as they are known now. */
export interface Recount {
  id: string
  /** [ms UTC] */
  from: number
  to: number
  /** Of the span; what is left out gave nothing. */
  quarters: readonly QuarterRow[]
  /** What the counter remembers at the end of it. */
  memory?: unknown
}

/** A total that held `before` for some quarter and holds `after` instead. */
export function exchanged<T extends Omit<DayTotal, 'peak'>>(total: T, before: DayTotal, after: DayTotal): T {
  const isKnown = total.u95 !== null && before.u95 !== null && after.u95 !== null
  return {
    ...total,
    value: total.value - before.value + after.value,
    gapSeconds: wholeMs(total.gapSeconds - before.gapSeconds + after.gapSeconds),
    uncertainSeconds: wholeMs(total.uncertainSeconds - before.uncertainSeconds + after.uncertainSeconds),
    u95: isKnown ? total.u95! - before.u95! + after.u95! : null,
  }
}

/** Times are whole milliseconds; what is left of a difference below that is rounding. */
function wholeMs(seconds: number): number {
  return Math.round(seconds * 1000) / 1000
}

/** What holds its highest value, and so may have seen more than was recorded, never loses an event. */
export function notLower(before: DayTotal, after: DayTotal): DayTotal {
  return {
    ...after,
    value: Math.max(before.value, after.value),
    peak: before.peak === null ? after.peak : Math.max(before.peak, after.peak ?? before.peak),
  }
}
