import { eachQuarter, QUARTER_MS, quarterOf } from '../derive/counting/quarters.ts'
import type { State } from '../state/openState.ts'
import type { QueueHealth } from '../wire/replies.ts'

/** Quarters of an hour of one plant, one after the other, that are to be derived anew. */
export interface LateSpan {
  plant: string
  /** [ms UTC] */
  from: number
  to: number
  /** How often each quarter had been noted when the span was taken. */
  versions: readonly number[]
}

/** The quarters of which readings came after their figures had been worked out; kept across restarts. */
export interface LateQuarters {
  note(plant: string, span: { from: number; to: number }): void
  /** Stores what was noted; call once a second, before the readings themselves are handed over. */
  store(): void
  /** What is due: the newest that is over since a while, of a plant that is known and not put off. */
  next(now: number, isKnown: (plant: string) => boolean): LateSpan | undefined
  /** Writes that these are done, but for what was noted meanwhile; call within a transaction, and `forget` once that holds. */
  writeDone(span: LateSpan): void
  forget(span: LateSpan): void
  putOff(span: LateSpan, until: number): void
  /** They cannot be derived: done, and counted. */
  giveUp(span: LateSpan): void
  queue(): QueueHealth
}

/** More than half a year of one plant. */
const MOST = 20_000
/** Derived at once: two hours. */
const MOST_AT_ONCE = 8
/** A quarter is derived so long after its end [ms]: what is a little late comes in the same turn. */
export const SETTLE_MS = 60_000

interface Noted {
  version: number
  notBefore: number
}

export function createLateQuarters(state: State): LateQuarters {
  const { database, write } = state
  const insert = database.prepare('INSERT OR IGNORE INTO late_quarter (plant, quarter) VALUES (?, ?)')
  const remove = database.prepare('DELETE FROM late_quarter WHERE plant = ? AND quarter = ?')
  const waiting = new Map<string, Map<number, Noted>>()
  const unsaved = new Map<string, Set<number>>()
  let length = 0
  let dropped = 0
  for (const { plant, quarter } of database.prepare('SELECT plant, quarter FROM late_quarter').all() as {
    plant: string
    quarter: number
  }[])
    add(plant, quarter)

  function add(plant: string, quarter: number): boolean {
    const ofPlant = waiting.get(plant) ?? new Map<number, Noted>()
    waiting.set(plant, ofPlant)
    const known = ofPlant.get(quarter)
    if (known) {
      known.version++
      known.notBefore = 0
      return false
    }
    if (length >= MOST) {
      dropped++
      return false
    }
    ofPlant.set(quarter, { version: 0, notBefore: 0 })
    length++
    return true
  }

  function note(plant: string, span: { from: number; to: number }): void {
    eachQuarter({ from: span.from, to: span.to + 1 }, (quarter) => {
      if (!add(plant, quarter)) return
      const ofPlant = unsaved.get(plant) ?? new Set<number>()
      unsaved.set(plant, ofPlant.add(quarter))
    })
  }

  function store(): void {
    if (unsaved.size === 0) return
    const isHeld = write(() => {
      for (const [plant, quarters] of unsaved) for (const quarter of quarters) insert.run(plant, quarter)
    })
    if (isHeld) unsaved.clear()
  }

  function next(now: number, isKnown: (plant: string) => boolean): LateSpan | undefined {
    const over = quarterOf(now - SETTLE_MS)
    let found: LateSpan | undefined
    for (const [plant, quarters] of waiting) {
      if (!isKnown(plant)) continue
      const isDue = (quarter: number) =>
        quarter < over && (quarters.get(quarter)?.notBefore ?? Number.POSITIVE_INFINITY) <= now
      const newest = [...quarters.keys()].filter(isDue).sort((a, b) => b - a)[0]
      if (newest === undefined || newest < (found?.to ?? 0)) continue
      found = runUpTo(plant, newest, isDue)
    }
    return found
  }

  function runUpTo(plant: string, newest: number, isDue: (quarter: number) => boolean): LateSpan {
    let from = newest
    while (isDue(from - QUARTER_MS) && newest - from < (MOST_AT_ONCE - 1) * QUARTER_MS) from -= QUARTER_MS
    const span = { plant, from, to: newest + QUARTER_MS }
    return { ...span, versions: quartersOf(span).map((quarter) => waiting.get(plant)!.get(quarter)!.version) }
  }

  /** Those of the span that were not noted again. */
  function doneOf(span: LateSpan): number[] {
    const quarters = waiting.get(span.plant)
    return quartersOf(span).filter((quarter, i) => quarters?.get(quarter)?.version === span.versions[i])
  }

  function writeDone(span: LateSpan): void {
    for (const quarter of doneOf(span)) remove.run(span.plant, quarter)
  }

  function forget(span: LateSpan): void {
    for (const quarter of doneOf(span)) {
      waiting.get(span.plant)!.delete(quarter)
      unsaved.get(span.plant)?.delete(quarter)
      length--
    }
  }

  return {
    note,
    store,
    next,
    writeDone,
    forget,
    putOff(span, until) {
      for (const quarter of quartersOf(span)) {
        const noted = waiting.get(span.plant)?.get(quarter)
        if (noted) noted.notBefore = until
      }
    },
    giveUp(span) {
      dropped += doneOf(span).length
      if (write(() => writeDone(span))) forget(span)
    },
    queue: () => ({
      name: 'quarters of an hour to be derived anew',
      length,
      limit: MOST,
      policy:
        'the newest first, each once it is over; beyond the limit further ones are left as they were and counted',
      dropped,
    }),
  }
}

function quartersOf({ from, to }: { from: number; to: number }): number[] {
  return Array.from({ length: (to - from) / QUARTER_MS }, (_, i) => from + i * QUARTER_MS)
}
