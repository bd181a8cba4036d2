import { type Counters, createCounters } from '../../server/derive/counters.ts'
import { createCounterMemory } from '../../server/derive/counting/counterMemory.ts'
import type { CounterStore } from '../../server/derive/counting/storedCounter.ts'
import type { Reading } from '../../server/ingest/reading.ts'
import type { Plant } from '../../server/plant/plant.ts'
import type { CounterView, IndexView } from '../../server/wire/replies.ts'
import { type EvaluatorBench, evaluatorBench } from './evaluatorBench.ts'

/** Keeps what was saved as a database would: as copies, and all of a call or nothing. */
export function memoryCounters(): CounterStore & { failing: boolean } {
  const memory = createCounterMemory()
  return {
    ...memory,
    failing: false,
    load: (plant, id) => structuredClone(memory.load(plant, id)),
    save(plant, changes, alongside) {
      return !this.failing && memory.save(plant, structuredClone(changes), alongside)
    },
  }
}

export interface CounterBench extends Pick<EvaluatorBench, 'figures' | 'plan' | 'view'> {
  counters: Counters
  store: ReturnType<typeof memoryCounters>
  /** Values in SI, all measured at `at` [ms UTC]; then one tick. */
  step(at: number, values?: Record<string, number>, more?: Partial<Reading>): void
  counter(id: string): CounterView
  index(id: string): IndexView
  /** The end without a last save, and a new beginning from the store. */
  kill(): void
}

/** The counters of a plant, fed by hand. */
export function counterBench(plant: Plant, store = memoryCounters()): CounterBench {
  let figures: EvaluatorBench
  let counters: Counters

  function start(): void {
    figures = evaluatorBench(plant)
    const { plan, evaluator, figures: lookup } = figures
    counters = createCounters({ plan, evaluator, figures: lookup, store })
  }

  function read(quantity: string, value: number, more: Partial<Reading> & { measuredAt: number }): void {
    figures.read(quantity, value, more)
    counters.takeReading({
      plant: plant.id,
      instrument: plant.instruments.find((one) => one.quantity === quantity)!.id,
      quantity,
      value,
      receivedAt: more.measuredAt,
      quality: 'good',
      reasons: [],
      ...more,
    })
  }

  start()
  return {
    store,
    get counters() {
      return counters
    },
    get figures() {
      return figures.figures
    },
    get plan() {
      return figures.plan
    },
    view: (figure) => figures.view(figure),
    step(at, values = {}, more = {}) {
      for (const [quantity, value] of Object.entries(values))
        read(quantity, value, { measuredAt: at, receivedAt: at, ...more })
      figures.evaluate(at)
      counters.tick(at)
    },
    counter(id) {
      const found = counters.views().find((one) => one.id === id)
      if (!found) throw new Error(`no counter ${id}`)
      return found
    },
    index: (id) => counters.indices().find((one) => one.id === id)!,
    kill: start,
  }
}

export const SECOND = 1000
export const MINUTE = 60 * SECOND
export const HOUR = 60 * MINUTE
