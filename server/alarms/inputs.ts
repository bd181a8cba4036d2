import { counterKinds } from '../derive/counterKinds.ts'
import type { Counters } from '../derive/counters.ts'
import { createCalendar } from '../derive/counting/calendar.ts'
import type { FigureLookupById } from '../derive/lookup.ts'
import type { Reading } from '../ingest/reading.ts'
import type { Quality } from '../wire/figure.ts'

/** How a condition stands at this moment. */
export interface ConditionState {
  /** Undefined: nobody can say, because the input is missing or bad. */
  holds: boolean | undefined
  /** SI value to show; NaN for none. */
  value: number
  at: number
  quality: Quality
}

/** One reading as it arrived. */
export interface RawSample {
  quantity: string
  /** The value, or the peak that the instrument held since its reading before. */
  value: number
  at: number
  quality: Quality
}

/** What alarms may take of a reading; undefined for one that says nothing about the present. */
export function rawSampleOf(reading: Reading): RawSample | undefined {
  if (reading.ageUnknown || reading.late) return undefined
  const { quantity, value, peak, measuredAt, quality } = reading
  return { quantity, value: peak === undefined ? value : Math.max(value, peak), at: measuredAt, quality }
}

/** The newest sample of one quantity, and the figure where there is none yet. */
export interface RawInput {
  take(sample: RawSample): void
  /**
   * The raw sample is good for as long as the figure does not go stale; before the first, after a restart or a change
   * of the plant file, the figure stands in.
   */
  newest(now: number): Omit<ConditionState, 'holds'>
}

export function createRawInput(figure: string, figures: FigureLookupById): RawInput {
  let last: RawSample | undefined
  return {
    take(sample) {
      last = sample
    },
    newest(now) {
      const quality = figures.quality(figure)
      const staleAfter = figures.staleAfterMs(figure)
      const isFresh =
        last !== undefined && (Number.isFinite(staleAfter) ? now - last.at <= staleAfter : quality !== 'bad')
      if (last && isFresh) return { value: last.value, at: now, quality: last.quality }
      if (quality === 'bad') return { value: Number.NaN, at: now, quality }
      return { value: figures.value(figure), at: figures.at(figure) || now, quality }
    },
  }
}

/** What a counter has come to since the plant's day began. */
export interface CounterTotal {
  /** SI. */
  value: number
  /** SI per second at this moment; NaN when unknown. */
  rate: number
  /** When it begins again at zero [ms UTC]. */
  resetsAt: number
  /** False when a part of the day was not counted: the true total is larger. */
  complete: boolean
}

/** Where alarms look up counters; undefined where the plant has no such counter. */
export interface CounterLookup {
  total(counter: string): CounterTotal | undefined
}

/** Time [ms] after the plant's midnight within which a day still counts as counted from its beginning. */
const PUNCTUAL_MS = 5000
/** Gaps [s] of a day that do not matter to a daily limit. */
const NEGLIGIBLE_GAP_S = 60

/** What counters have come to since the plant's midnight, for alarms on daily limits. */
export function createDayTotals(
  { counters, figures, timeZone }: { counters: Counters; figures: FigureLookupById; timeZone: string },
  now: () => number,
): CounterLookup {
  const calendar = createCalendar(timeZone)
  return {
    total(id) {
      const today = counters.views().find((one) => one.id === id)?.today
      const kind = counterKinds.find((one) => one.id === id)
      if (!today || !kind) return undefined
      const { start, end } = calendar.dayOf(now())
      const isWhole = today.from - start < PUNCTUAL_MS && today.gapSeconds < NEGLIGIBLE_GAP_S
      const rate = kind.counting.by === 'integral' ? figures.value(kind.figures[0]!) : Number.NaN
      return { value: today.value, rate, resetsAt: end, complete: isWhole }
    },
  }
}
