import type { Plant } from '../../plant/plant.ts'
import type { Evaluator } from '../evaluate.ts'
import type { FigureLookupById } from '../lookup.ts'
import type { Plan } from '../plan.ts'
import type { CounterChange, CounterStore } from './storedCounter.ts'
import type { Tally } from './tally.ts'

/** Something that remembers, is kept with the counters, and is none. */
export interface Tracker {
  tick(now: number): void
  change(): CounterChange | undefined
  saved(): void
}

export interface TrackerContext {
  plant: Plant
  plan: Plan
  evaluator: Pick<Evaluator, 'setAccumulated'>
  figures: FigureLookupById
  store: CounterStore
  /** Counters by id. */
  tallies: ReadonlyMap<string, Tally>
}
