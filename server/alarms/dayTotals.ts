import { counterKinds } from '../derive/counterKinds.ts'
import type { Counters } from '../derive/counters.ts'
import { createCalendar } from '../derive/counting/calendar.ts'
import type { FigureLookupById } from '../derive/lookup.ts'
import type { CounterLookup } from './inputs.ts'

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
