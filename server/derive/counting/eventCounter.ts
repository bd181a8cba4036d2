import { HELD_MS } from '../integrate.ts'
import { isOf } from './conditions.ts'
import { type Counter, type CounterContext, timing } from './counterContext.ts'
import { type EventMemory, NOTHING_SEEN, observe } from './detect.ts'
import type { CounterKind, Counting, Look } from './kind.ts'
import { withReading } from './look.ts'
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
  const tally = createTally({
    id: kind.id,
    plant: context.plant.id,
    source: 'counted',
    store: context.store,
    calendar: context.calendar,
  })
  tally.source = 'counted'
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
