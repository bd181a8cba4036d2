import type { CounterDaysReply, CounterPeriod } from '../../wire/replies.ts'
import type { Calendar } from './calendar.ts'
import type { Counter } from './counterContext.ts'
import type { CountedDay, Tally } from './tally.ts'

/** The days from one date to another as one period; null where nothing was counted then. */
export function periodOf(
  tally: Tally,
  span: { from: string; to: string },
  now: number,
): CounterPeriod | null {
  const days = tally.days(span, now)
  const [first] = days
  const since = tally.since()
  if (!first || since === null) return null
  const peaks = days.flatMap(({ peak }) => peak ?? [])
  return {
    from: Math.max(first.start, since),
    to: Math.min(days.at(-1)!.end, now),
    value: sum(days, 'value'),
    gapSeconds: sum(days, 'gapSeconds'),
    uncertainSeconds: sum(days, 'uncertainSeconds'),
    ...halfWidthOf({ value: sum(days, 'value'), u95: sumOfHalfWidths(days) }),
    ...(peaks.length === 0 ? {} : { peak: Math.max(...peaks) }),
  }
}

export function usualPeriods(
  tally: Tally,
  calendar: Calendar,
  now: number,
): Record<'today' | 'yesterday' | 'thisMonth', CounterPeriod | null> {
  const today = calendar.dayOf(now).date
  const yesterday = calendar.shift(today, -1)
  return {
    today: periodOf(tally, { from: today, to: today }, now),
    yesterday: periodOf(tally, { from: yesterday, to: yesterday }, now),
    thisMonth: periodOf(tally, { from: calendar.monthStart(today), to: today }, now),
  }
}

/** Day by day, as for reports. */
export function viewDays(
  counter: Counter,
  timeZone: string,
  { span, now }: { span: { from: string; to: string }; now: number },
): CounterDaysReply {
  const { kind, tally } = counter
  const since = tally.since() ?? now
  const days = tally.days(span, now).map((day) => ({
    date: day.date,
    from: Math.max(day.start, since),
    to: Math.min(day.end, now),
    value: day.value,
    gapSeconds: day.gapSeconds,
    uncertainSeconds: day.uncertainSeconds,
    ...withStep(halfWidthOf(day), counter),
    ...(day.peak === null ? {} : { peak: day.peak }),
  }))
  return { id: kind.id, unit: kind.unit, timeZone, days }
}

function sumOfHalfWidths(days: readonly CountedDay[]): number | null {
  return days.reduce<number | null>(
    (total, { u95 }) => (total === null || u95 === null ? null : total + u95),
    0,
  )
}

/** As people see it: absent where none is known, or nothing was counted. */
export function halfWidthOf({ value, u95 }: { value: number; u95: number | null }): { u95?: number } {
  return u95 === null || value === 0 ? {} : { u95 }
}

/** A meter that is read at begin and end may be off by up to one of its steps. */
export function withStep<T extends { u95?: number }>(part: T, { meter }: Pick<Counter, 'meter'>): T {
  return part.u95 === undefined || !meter ? part : { ...part, u95: part.u95 + meter.step }
}

function sum(days: readonly CountedDay[], what: 'value' | 'gapSeconds' | 'uncertainSeconds'): number {
  return days.reduce((total, day) => total + day[what], 0)
}
