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

/** The alarm journal is only ever added to. */
export interface Journal extends AlarmJournal, JournalReader {
  /** Tries again to store what the disk has refused; call from time to time. */
  storeWaiting(): void
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

export function createJournal(state: State, alongside: Alongside = () => () => {}): Journal {
  const insert = state.database.prepare('INSERT INTO journal (at, plant, entry) VALUES (?, ?, ?)')
  const remember = state.database.prepare(
    'INSERT INTO alarm (plant, id, memory) VALUES (?, ?, ?) ON CONFLICT DO UPDATE SET memory = excluded.memory',
  )
  const recall = state.database.prepare('SELECT memory FROM alarm WHERE plant = ? AND id = ?')
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
    ...createJournalReader(state),
    storeWaiting,
    waiting: () => ({ length: waiting.length, dropped }),
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
