import { Temporal } from 'temporal-polyfill'

/** A time of day on the plant's clock. */
export interface TimeOfDay {
  hour: number
  minute: number
}

/** From `from` until just before `to`; over midnight where `to` is earlier. */
export interface QuietHours {
  from: TimeOfDay
  to: TimeOfDay
}

/** ISO 8601: 1 is Monday. */
export type Weekday = 1 | 2 | 3 | 4 | 5 | 6 | 7

/** The end [ms UTC] of the quiet hours that `now` lies in, or undefined outside them. */
export function quietUntil(now: number, zone: string, { from, to }: QuietHours): number | undefined {
  const local = at(now, zone)
  const minutes = local.hour * 60 + local.minute
  const start = from.hour * 60 + from.minute
  const end = to.hour * 60 + to.minute
  const isOverMidnight = end <= start
  const isQuiet = isOverMidnight ? minutes >= start || minutes < end : minutes >= start && minutes < end
  if (!isQuiet || start === end) return undefined
  const day = isOverMidnight && minutes >= start ? local.add({ days: 1 }) : local
  return onDay(day, to)
}

/** The first instant [ms UTC] after `now` at which the local clock shows `time`. */
export function nextLocalTime(now: number, zone: string, time: TimeOfDay): number {
  const local = at(now, zone)
  const today = onDay(local, time)
  return today > now ? today : onDay(local.add({ days: 1 }), time)
}

/** The last instant [ms UTC] up to `now` at which the local clock showed `time` on `weekday`. */
export function lastWeekly(now: number, zone: string, day: { weekday: Weekday; time: TimeOfDay }): number {
  const local = at(now, zone)
  const back = (local.dayOfWeek - day.weekday + 7) % 7
  const instant = onDay(local.subtract({ days: back }), day.time)
  return instant <= now ? instant : onDay(local.subtract({ days: back + 7 }), day.time)
}

/** The first such instant [ms UTC] after `now`. */
export function nextWeekly(now: number, zone: string, day: { weekday: Weekday; time: TimeOfDay }): number {
  return onDay(at(lastWeekly(now, zone, day), zone).add({ days: 7 }), day.time)
}

/** Local date, e.g. "2026-11-25". */
export function localDate(now: number, zone: string): string {
  return at(now, zone).toPlainDate().toString()
}

/** "14:03:22 GMT" */
export function localClock(now: number, zone: string): string {
  const time = { hour: '2-digit', minute: '2-digit', second: '2-digit', hourCycle: 'h23' } as const
  return new Intl.DateTimeFormat('en-GB', { timeZone: zone, ...time, timeZoneName: 'short' }).format(now)
}

/** "Wednesday 25 November 2026, 14:03:22 GMT" */
export function localMoment(now: number, zone: string): string {
  const day = new Intl.DateTimeFormat('en-GB', { timeZone: zone, dateStyle: 'full' }).format(now)
  return `${day.replace(',', '')}, ${localClock(now, zone)}`
}

function at(now: number, zone: string): Temporal.ZonedDateTime {
  return Temporal.Instant.fromEpochMilliseconds(Math.floor(now)).toZonedDateTimeISO(zone)
}

/**
 * A time that the clock skips in spring is taken as much later as it skips; one that comes twice in autumn is
 * taken the first time.
 */
function onDay(day: Temporal.ZonedDateTime, { hour, minute }: TimeOfDay): number {
  return day.withPlainTime({ hour, minute }).epochMilliseconds
}
