import type { State } from '../state/openState.ts'
import type { JournalEntry } from '../wire/alarm.ts'
import type { AlarmMemory, Step } from './alarm.ts'
import type { AlarmJournal } from './board.ts'

/** The alarm journal as it is stored. */
export interface JournalReader {
  /** The newest entries of a plant, newest first; `before` continues a listing. */
  newest(plant: string, options: { limit: number; before?: number }): JournalEntry[]
  /** Entries of a plant in a span of time, oldest first, at most `limit`; `after` continues a listing. */
  between(
    plant: string,
    span: { from: number; to: number; limit: number; after?: Pick<JournalEntry, 'at' | 'sequence'> },
  ): JournalEntry[]
}

/** How long entries are kept, and how many at most: what alarms remember, messages and event records are kept apart. */
export interface JournalKeeping {
  years: number
  entries: number
}

/** A table of this many takes about 0.4 GB. */
export const MOST_ENTRIES = 1_000_000
const YEAR_MS = 365.25 * 86_400_000
/** Before this [ms UTC] a clock stood wrong: such an entry is as old as the next one. */
const FIRST_SANE = Date.UTC(2000, 0)
/** So few at a time that nobody waits for it. */
const AT_ONCE = 200

/** The alarm journal: added to, and shortened at its old end alone. */
export interface Journal extends AlarmJournal, JournalReader {
  /** Tries again to store what the disk has refused; call from time to time. */
  storeWaiting(): void
  /** Takes a few of the oldest entries off that are kept no longer. @returns how many. */
  shorten(now: number): number
  /** Steps that could not be stored yet. */
  waiting(): { length: number; dropped: number }
}

/** Steps kept in memory while the disk refuses them; beyond this the oldest are given up and counted. */
export const WAITING_LIMIT = 10_000

/**
 * What else belongs to a step, prepared when it is recorded. @returns what writes it: called inside the step's own
 * transaction, again when the disk refused it; it must not throw for anything but the disk.
 */
export type Alongside = (entry: JournalEntry) => () => void

export function createJournal(
  state: State,
  alongside: Alongside = () => () => {},
  keeping: JournalKeeping = { years: Number.POSITIVE_INFINITY, entries: MOST_ENTRIES },
): Journal {
  const insert = state.database.prepare('INSERT INTO journal (at, plant, entry) VALUES (?, ?, ?)')
  const remember = state.database.prepare(
    'INSERT INTO alarm (plant, id, memory) VALUES (?, ?, ?) ON CONFLICT DO UPDATE SET memory = excluded.memory',
  )
  const recall = state.database.prepare('SELECT memory FROM alarm WHERE plant = ? AND id = ?')
  const around = state.database.prepare(
    'SELECT entry FROM journal WHERE plant = ? AND at BETWEEN ? AND ? ORDER BY at DESC, sequence DESC LIMIT 2000',
  )
  const waiting: { plant: string; step: Step; memory: AlarmMemory; writeAlongside: () => void }[] = []
  let dropped = 0
  let sequence = lastSequence(state)

  /** Oldest first, so that the journal keeps its order; stops at the first that is refused. */
  function storeWaiting(): void {
    while (waiting.length > 0) {
      const { plant, step, memory, writeAlongside } = waiting[0]!
      const held = state.write(() => {
        insert.run(step.at, plant, JSON.stringify(step))
        remember.run(plant, step.alarm, JSON.stringify(memory))
        writeAlongside()
      })
      if (!held) return
      waiting.shift()
    }
  }

  return {
    record(plant, step, memory) {
      sequence++
      const entry = { ...step, plant, sequence }
      waiting.push({ plant, step, memory, writeAlongside: alongside(entry) })
      if (waiting.length > WAITING_LIMIT) {
        waiting.shift()
        dropped++
      }
      storeWaiting()
      return entry
    },
    memoryOf(plant, alarm) {
      const row = recall.get(plant, alarm) as { memory: string } | undefined
      return row && (JSON.parse(row.memory) as AlarmMemory)
    },
    wasTold: (plant, alarm, at) =>
      wasTold(around.all(plant, at - TOLD_REACH_MS, at + SAME_EVENT_MS), alarm, at),
    ...createJournalReader(state),
    storeWaiting,
    shorten: createShortening(state, keeping),
    waiting: () => ({ length: waiting.length, dropped }),
  }
}

/** The newest entry always stays: the next one is numbered after it. */
function createShortening(state: State, { years, entries }: JournalKeeping): (now: number) => number {
  const oldest = state.database.prepare(`SELECT sequence, at FROM journal ORDER BY sequence LIMIT ${AT_ONCE}`)
  const remove = state.database.prepare('DELETE FROM journal WHERE sequence <= ?')
  return (now) => {
    const last = lastSequence(state)
    const rows = oldest.all() as { sequence: number; at: number }[]
    const isOld = (i: number) =>
      now - (rows.slice(i).find(({ at }) => at >= FIRST_SANE)?.at ?? now) > years * YEAR_MS
    const kept = rows.findIndex(
      ({ sequence }, i) => sequence === last || (sequence > last - entries && !isOld(i)),
    )
    const upTo = rows[(kept < 0 ? rows.length : kept) - 1]?.sequence
    return upTo !== undefined && state.write(() => void remove.run(upTo))
      ? kept < 0
        ? rows.length
        : kept
      : 0
  }
}

export function createJournalReader({ database }: Pick<State, 'database'>): JournalReader {
  const list = database.prepare(
    'SELECT sequence, entry FROM journal WHERE plant = ? AND sequence < ? ORDER BY sequence DESC LIMIT ?',
  )
  const span = database.prepare(
    'SELECT sequence, entry FROM journal WHERE plant = ? AND at >= ? AND at < ? AND (at, sequence) > (?, ?) ORDER BY at, sequence LIMIT ?',
  )
  return {
    newest: (plant, { limit, before = Number.MAX_SAFE_INTEGER }) =>
      entriesOf(plant, list.all(plant, before, limit)),
    between: (plant, { from, to, limit, after = { at: from, sequence: 0 } }) =>
      entriesOf(plant, span.all(plant, after.at, to, after.at, after.sequence, limit)),
  }
}

/** So near [ms] to what was told it is the same event; and so far back one that goes on is looked for. */
const SAME_EVENT_MS = 60_000
const TOLD_REACH_MS = 7 * 86_400_000

function wasTold(rows: unknown[], alarm: string, at: number): boolean {
  const steps = (rows as { entry: string }[])
    .map(({ entry }) => JSON.parse(entry) as Step)
    .filter((step) => step.alarm === alarm && ['raise', 'return', 'toldLate'].includes(step.event))
  if (steps.some((step) => Math.abs(step.at - at) <= SAME_EVENT_MS)) return true
  return steps.find((step) => step.at <= at && step.event !== 'toldLate')?.event === 'raise'
}

function entriesOf(plant: string, rows: unknown[]): JournalEntry[] {
  return (rows as { sequence: number; entry: string }[]).map((row) => ({
    ...(JSON.parse(row.entry) as Step),
    plant,
    sequence: row.sequence,
  }))
}

function lastSequence(state: State): number {
  const row = state.database.prepare('SELECT COALESCE(MAX(sequence), 0) AS last FROM journal').get()
  return (row as { last: number }).last
}
