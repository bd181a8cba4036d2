import { HELD_MS } from '../integrate.ts'
import { isOf, withReading } from './conditions.ts'
import { type Counter, type CounterContext, timing } from './counterContext.ts'
import type { CounterKind, Counting, Look } from './kind.ts'
import { AHEAD_MS, createTally } from './tally.ts'

interface Memory {
  event: EventMemory
  /** The highest value of any event. */
  peak?: { value: number; at: number }
}

/** Counts how often something begins; looks at every reading and, for what runs out with time, at every tick. */
export function createEventCounter(
  kind: CounterKind,
  counting: Extract<Counting, { by: 'events' }>,
  context: CounterContext,
): Counter {
  const { ids, look, rated } = context
  const timed = timing(kind, context)
  const tally = createTally(context, { id: kind.id, source: 'counted' })
  const holds = { onMs: counting.onMs, offMs: counting.offMs, gapMs: HELD_MS }
  const memory = () => (tally.memory as Memory | undefined) ?? { event: NOTHING_SEEN }
  const watches = ids.filter((id) => kind.figures.some((one) => isOf(one.replace('.*', ''), id)))

  /** Between two ticks only what changes something is of interest: this is the hot path. */
  function judge(at: number, seen: Look, isBetweenTicks = false): void {
    const before = memory()
    const condition = counting.holds(seen, before.event.isOn ?? false)
    const isQuiet = before.event.isOn === false && before.event.turningSince === null
    if (isBetweenTicks && isQuiet && condition === false) return
    const { memory: event, began } = observe(before.event, { at, condition }, holds)
    if (event === before.event) return
    tally.memory = { ...before, event }
    tally.take({ at, rate: 0 })
    if (began !== null) tally.count(began)
    if (condition && event.isOn && counting.peak) keepPeak(at, seen.value(counting.peak))
  }

  function keepPeak(at: number, value: number): void {
    tally.peak(at, value)
    const before = memory()
    if (value > (before.peak?.value ?? Number.NEGATIVE_INFINITY))
      tally.memory = { ...before, peak: { value, at } }
  }

  /** A clock that was set back. */
  function believe(now: number): void {
    const { event, ...rest } = memory()
    if (event.at !== null && event.at > now + AHEAD_MS)
      tally.memory = { ...rest, event: { ...event, at: now, turningSince: null } }
  }

  return {
    kind,
    tally,
    watches,
    peak: () => memory().peak,
    tick(now) {
      tally.begin(now)
      believe(now)
      const at = timed(now)
      if (!Number.isNaN(at)) judge(at, look)
    },
    takeReading(reading) {
      if (reading.late || reading.ageUnknown || reading.quality === 'bad') return
      tally.begin(reading.receivedAt)
      const { quantity, value, peak = value } = reading
      const read = { quantity, value: Math.max(value, peak), rated: rated(quantity) ?? Number.NaN }
      judge(reading.measuredAt, withReading(look, read), true)
    },
  }
}

/** What must be remembered to tell a new event from the one that goes on. */
export interface EventMemory {
  /** Null until it was judged for the first time: what went on before counting began is no event. */
  isOn: boolean | null
  /** Since when [ms UTC] the condition has differed from `isOn` without interruption; null while it agrees. */
  turningSince: number | null
  /** Time of the last judgement [ms UTC]. */
  at: number | null
}

export const NOTHING_SEEN: EventMemory = { isOn: null, turningSince: null, at: null }

export interface Holds {
  /** The condition must hold this long [ms] before an event counts: a flicker is no event. */
  onMs: number
  /** It must be absent this long [ms] before the next event can begin. */
  offMs: number
  /** Beyond this time [ms] without a judgement nobody knows whether it held without interruption. */
  gapMs: number
}

/**
 * One judgement of an event's condition, with on- and off-delay.
 *
 * @param condition Undefined where nobody can tell; then nothing changes.
 * @returns The memory afterwards and, when an event is now certain, the moment [ms UTC] at which it began.
 * Source: on-delay and off-delay as in IEC 62682; common practice for starts counters, no source.
 */
export function observe(
  memory: EventMemory,
  { at, condition }: { at: number; condition: boolean | undefined },
  holds: Holds,
): { memory: EventMemory; began: number | null } {
  if (condition === undefined || (memory.at !== null && at <= memory.at)) return { memory, began: null }
  const settled = { isOn: condition, turningSince: null, at }
  if (memory.isOn === null || memory.isOn === condition)
    return { memory: { ...settled, isOn: condition }, began: null }
  const isBroken = memory.at === null || at - memory.at > holds.gapMs
  const turningSince = isBroken ? at : (memory.turningSince ?? at)
  if (at - turningSince < (condition ? holds.onMs : holds.offMs))
    return { memory: { isOn: memory.isOn, turningSince, at }, began: null }
  return { memory: settled, began: condition ? turningSince : null }
}
