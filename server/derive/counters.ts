import type { Reading } from '../ingest/reading.ts'
import { watchersOf } from '../wire/groupBy.ts'
import type { CounterDaysReply, CounterView, IndexView } from '../wire/replies.ts'
import { kindsFor } from './counterKinds.ts'
import { createBatteryCycle } from './counting/batteryCycle.ts'
import { createCalendar } from './counting/calendar.ts'
import { createLook } from './counting/conditions.ts'
import type { Counter, CounterContext } from './counting/counterContext.ts'
import { viewCounter } from './counting/counterView.ts'
import { createEventCounter } from './counting/eventCounter.ts'
import { viewIndices } from './counting/indices.ts'
import { createIntegrated } from './counting/integratedCounter.ts'
import type { CounterKind } from './counting/kind.ts'
import { createMeteredCounter } from './counting/meteredCounter.ts'
import { viewDays } from './counting/periods.ts'
import type { Recount } from './counting/recount.ts'
import { createStateOfCharge } from './counting/stateOfCharge.ts'
import type { CounterStore } from './counting/storedCounter.ts'
import type { Tracker } from './counting/tracker.ts'
import type { Evaluator } from './evaluate.ts'
import type { FigureLookupById } from './lookup.ts'
import { nodeOf, type Plan } from './plan.ts'

export type { CounterStore } from './counting/storedCounter.ts'

export interface Counters {
  /** Every reading as it arrives: meters, trips and over-speed are read here, so that nothing between two ticks is lost. */
  takeReading(reading: Reading): void
  /** Call after every evaluation of the figures. */
  tick(now: number): void
  /** Writes what changed; call once a second and before the end. */
  save(): boolean
  /** Ends the count of a past span at `to` and says what its quarters gave; call once nothing more is to come. */
  ended(span: { from: number; to: number }): Recount[]
  /** Takes over what was counted anew, in one transaction with what is written alongside. Returns whether it is stored. */
  recount(anew: readonly Recount[], alongside: () => void): boolean
  /** As of the last tick. */
  views(): CounterView[]
  /** Local days from one date to another, both included; undefined for an unknown counter. */
  days(counter: string, span: { from: string; to: string }): CounterDaysReply | undefined
  indices(): IndexView[]
}

export interface CountersOptions {
  plan: Plan
  evaluator: Pick<Evaluator, 'setAccumulated'>
  figures: FigureLookupById
  store: CounterStore
}

/** Views are made at most this often [ms], however many look. */
const VIEW_MS = 1000
const INDEX_MS = 10_000

/** What a plant counts, what follows from it, and what is remembered with it. */
export function createCounters({ plan, evaluator, figures, store }: CountersOptions): Counters {
  const { plant } = plan
  const context = contextOf(plan, figures, store)
  const kinds = kindsFor({ plant, has: figures.has, rated: context.rated }, plan)
  const counters = kinds.map((kind) => createCounter(kind, context))
  const byId = new Map(counters.map((counter) => [counter.kind.id, counter]))
  const tallies = new Map(counters.map(({ kind, tally }) => [kind.id, tally]))
  const tracked = { plant, plan, evaluator, figures, store, tallies }
  const cycle = createBatteryCycle(tracked)
  const trackers = [createStateOfCharge(tracked), cycle].filter((one) => one !== undefined)
  const kept = [...counters.flatMap(({ tally, check }) => (check ? [tally, check] : [tally])), ...trackers]
  const counted = counters.flatMap((counter) => [counter.tally, ...(counter.check ? [counter.check] : [])])
  const ofPeak = new Set(counters.flatMap(({ kind }) => (hasPeak(kind) ? [kind.id] : [])))
  const keeping = { plant: plant.id, kept, store }
  const watching = watchersOf(counters)
  let now = 0
  const views = atMostEvery(VIEW_MS, () => counters.flatMap((one) => viewCounter(one, context, now) ?? []))
  const indices = atMostEvery(INDEX_MS, () => [
    ...viewIndices(tallies, context, now),
    ...(plant.battery ? [cycle.view()] : []),
  ])

  return {
    takeReading(reading) {
      for (const counter of watching.get(reading.quantity) ?? []) counter.takeReading!(reading)
    },
    tick(at) {
      now = at
      for (const counter of counters) counter.tick(now)
      for (const tracker of trackers) tracker.tick(now)
    },
    save: () => saveAll(keeping),
    ended({ from, to }) {
      for (const tally of counted) tally.lose({ from: tally.state().at ?? tally.since() ?? to, to })
      saveAll(keeping)
      return counted.map(({ id, memory }) => {
        const quarters = store.quarters(plant.id, id, { from, to })
        return { id, from, to, quarters, memory }
      })
    },
    recount(anew, alongside) {
      for (const one of anew) counted.find(({ id }) => id === one.id)?.recount(one, ofPeak.has(one.id))
      return saveAll(keeping, alongside)
    },
    views: () => views(now),
    indices: () => indices(now),
    days(id, span) {
      const counter = byId.get(id)
      return counter && viewDays(counter, plant.site.timeZone, { span, now })
    },
  }
}

/** By its kind; where the plant has the meter of an integral, the meter counts and the integral is its check. */
function createCounter(kind: CounterKind, context: CounterContext): Counter {
  const { counting } = kind
  if (counting.by === 'events') return createEventCounter(kind, counting, context)
  const meter = counting.by === 'integral' ? counting.meter : undefined
  const instrument = meter && context.plant.instruments.find((one) => one.quantity === meter.role)
  if (meter && instrument)
    return createMeteredCounter(
      { kind, meter, instrument, check: createIntegrated(kind, context, '.integrated') },
      context,
    )
  const { tally, tick } = createIntegrated(kind, context)
  // A meter that is gone may come back: what was integrated meanwhile must not be counted again.
  tally.memory = undefined
  return { kind, tally, tick, watches: [] }
}

function contextOf(plan: Plan, figures: FigureLookupById, store: CounterStore): CounterContext {
  const { plant } = plan
  const ids = [...plan.indexOf.keys()]
  const described = (figure: string) => nodeOf(plan, figure)?.description
  return {
    plant,
    figures,
    store,
    ids,
    calendar: createCalendar(plant.site.timeZone),
    look: createLook(figures, plant, ids),
    rated: (figure) => described(figure)?.rated,
    unitOf: (figure) => described(figure)?.unit,
  }
}

interface Keeping {
  plant: string
  kept: readonly Pick<Tracker, 'change' | 'saved'>[]
  store: CounterStore
}

function hasPeak({ counting }: CounterKind): boolean {
  return counting.by === 'events' && counting.peak !== undefined
}

/** All that changed in one transaction, so that nothing can be stored in part. */
function saveAll({ plant, kept, store }: Keeping, alongside?: () => void): boolean {
  const changes = kept.flatMap((one) => one.change() ?? [])
  if (changes.length === 0 && !alongside) return true
  const isHeld = store.save(plant, changes, alongside)
  if (isHeld) for (const one of kept) one.saved()
  return isHeld
}

function atMostEvery<T>(periodMs: number, make: () => T): (now: number) => T {
  let made: { at: number; value: T } | undefined
  return (now) => {
    if (!made || Math.abs(now - made.at) >= periodMs) made = { at: now, value: make() }
    return made.value
  }
}
