import { Temporal } from 'temporal-polyfill'

/** A day as people at the plant count it; 23 or 25 hours long where the clocks change. */
export interface LocalDay {
  /** e.g. "2026-03-29". */
  date: string
  /** The date of the day after. */
  next: string
  /** First moment [ms UTC]. */
  start: number
  /** First moment of the next day [ms UTC]. */
  end: number
}

export interface Calendar {
  dayOf(at: number): LocalDay
  day(date: string): LocalDay
  /** The date `days` later, or earlier where negative. */
  shift(date: string, days: number): string
  /** The first date of the month of `date`. */
  monthStart(date: string): string
}

/** Days in hand; sums over a year ask for the same ones again and again. */
const MOST_IN_HAND = 2000

/**
 * Local days of a time zone. Where the clocks skip midnight, a day begins with its first moment.
 *
 * @param timeZone IANA name; the plant file's is checked on reading.
 * Source: IANA time zone database.
 */
export function createCalendar(timeZone: string): Calendar {
  const inHand = new Map<string, LocalDay>()
  let latest = day('1970-01-01')

  function day(date: string): LocalDay {
    const known = inHand.get(date)
    if (known) return known
    if (inHand.size >= MOST_IN_HAND) inHand.clear()
    const first = Temporal.PlainDate.from(date)
    const next = first.add({ days: 1 })
    const startOf = (one: Temporal.PlainDate) => one.toZonedDateTime(timeZone).epochMilliseconds
    const made = { date, next: next.toString(), start: startOf(first), end: startOf(next) }
    inHand.set(date, made)
    return made
  }

  /** Nearly always the day asked for before. */
  function dayOf(at: number): LocalDay {
    if (at < latest.start || at >= latest.end) {
      const moment = Temporal.Instant.fromEpochMilliseconds(Math.floor(at))
      latest = day(moment.toZonedDateTimeISO(timeZone).toPlainDate().toString())
    }
    return latest
  }

  return {
    day,
    dayOf,
    shift: (date, days) => Temporal.PlainDate.from(date).add({ days }).toString(),
    monthStart: (date) => `${date.slice(0, -2)}01`,
  }
}

/** Whether a text is a date of the calendar, e.g. "2026-02-28" but not "2026-02-30". */
export function isDate(text: string): boolean {
  if (!/^\d{4}-\d{2}-\d{2}$/.test(text)) return false
  try {
    Temporal.PlainDate.from(text)
    return true
  } catch {
    return false
  }
}
