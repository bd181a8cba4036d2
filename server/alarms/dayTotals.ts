import { Temporal } from 'temporal-polyfill'
import { counterKinds } from '../derive/counterKinds.ts'
import type { Counters } from '../derive/counters.ts'
import type { FigureLookupById } from '../derive/lookup.ts'
import type { CounterLookup } from './inputs.ts'

/** Time [ms] after the plant's midnight within which a day still counts as counted from its beginning. */
const PUNCTUAL_MS = 5000

interface Day {
  from: number
  to: number
  /** Reading of each counter when the day, or this server, began. */
  start: Map<string, number>
  /** False after a start in the middle of the day: what was before is not known here. */
  complete: boolean
}

/**
 * What counters have come to since the plant's midnight, from their running values. It is worked out anew after a
 * restart, and says so; a lookup that remembers can take its place.
 */
export function createDayTotals(
  { counters, figures, timeZone }: { counters: Counters; figures: FigureLookupById; timeZone: string },
  now: () => number,
): CounterLookup {
  let day: Day | undefined

  function today(): Day {
    const time = now()
    if (day && time >= day.from && time < day.to) return day
    const start = Temporal.Instant.fromEpochMilliseconds(Math.floor(time))
      .toZonedDateTimeISO(timeZone)
      .startOfDay()
    const from = start.epochMilliseconds
    day = {
      from,
      to: start.add({ days: 1 }).epochMilliseconds,
      start: new Map(counters.views().map((view) => [view.id, view.value])),
      complete: time - from < PUNCTUAL_MS,
    }
    return day
  }

  return {
    total(id) {
      const { start, to, complete } = today()
      const view = counters.views().find((one) => one.id === id)
      const kind = counterKinds.find((one) => one.id === id)
      if (!view || !kind) return undefined
      const began = start.get(id) ?? 0
      return { value: view.value - began, rate: kind.rate(figures), resetsAt: to, complete }
    },
  }
}
