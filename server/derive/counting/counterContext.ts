import type { Reading } from '../../ingest/reading.ts'
import type { Plant } from '../../plant/plant.ts'
import type { FigureLookupById } from '../lookup.ts'
import type { Calendar } from './calendar.ts'
import { isOf } from './conditions.ts'
import type { CounterKind, Look } from './kind.ts'
import type { MeterNote } from './meter.ts'
import type { CounterStore } from './storedCounter.ts'
import type { Tally } from './tally.ts'

/** One counter of a plant at work. */
export interface Counter {
  kind: CounterKind
  tally: Tally
  /** The integral that a meter is held against. */
  check?: Tally
  /** Brings it up to the figures of now. */
  tick(now: number): void
  /** Readings as they arrive, of the quantities in `watches`; what comes between two ticks is seen too. */
  takeReading?(reading: Reading): void
  watches: readonly string[]
  /** Of a meter: its smallest step [SI], and what a person should know about it. */
  meter?: { step: number; note(): MeterNote | undefined }
  peak?(): { value: number; at: number } | undefined
}

export interface CounterContext {
  plant: Plant
  store: CounterStore
  calendar: Calendar
  figures: FigureLookupById
  look: Look
  /** Ids of all figures. */
  ids: readonly string[]
  /** Rated value of a figure [SI]; undefined where there is none. */
  rated(figure: string): number | undefined
  /** SI unit of a figure; undefined where the plant has none. */
  unitOf(figure: string): string | undefined
}

/** Time of a sample of the first figure; what is sent only on change holds until now. */
export function timing({ figures: [first] }: CounterKind, context: CounterContext): (now: number) => number {
  const { figures, ids } = context
  const id =
    ids.find((one) => (first.endsWith('.*') ? isOf(first.slice(0, -2), one) : one === first)) ?? first
  return (now) => (Number.isFinite(figures.staleAfterMs(id)) ? figures.at(id) : now)
}
