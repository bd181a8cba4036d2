import type { State } from '../../state/openState.ts'
import type { EventRecord, EventSummary } from '../../wire/event.ts'

/** Records kept of one plant; the oldest make room. */
export const MOST_EVENTS = 500

/** Event records as they are stored. */
export interface EventReader {
  /** Newest first. */
  list(plant: string, limit: number): EventSummary[]
  find(plant: string, id: string): EventRecord | undefined
}

/** Keeps event records across restarts. */
export interface EventStore extends EventReader {
  /** Whether it could be stored. */
  save(record: EventRecord): boolean
}

/** Records that a killed server left behind are marked as cut. */
export function createEventStore(state: State): EventStore {
  const { database } = state
  const put = database.prepare(
    `INSERT INTO event (id, plant, at, status, summary, record) VALUES (?, ?, ?, ?, ?, ?)
     ON CONFLICT DO UPDATE SET status = excluded.status, summary = excluded.summary, record = excluded.record`,
  )
  const prune = database.prepare(
    `DELETE FROM event WHERE plant = ? AND id NOT IN
       (SELECT id FROM event WHERE plant = ? ORDER BY at DESC LIMIT ?)`,
  )
  state.write(() => database.prepare("UPDATE event SET status = 'cut' WHERE status = 'begun'").run())

  return {
    save(record) {
      const { id, plant, at, alarm, name, status, story, simulated } = record
      const summary: EventSummary = { id, plant, at, alarm, name, status, story, simulated }
      return state.write(() => {
        put.run(id, plant, at, status, JSON.stringify(summary), JSON.stringify(compact(record)))
        prune.run(plant, plant, MOST_EVENTS)
      })
    },
    ...createEventReader(state),
  }
}

export function createEventReader({ database }: Pick<State, 'database'>): EventReader {
  const list = database.prepare('SELECT status, summary FROM event WHERE plant = ? ORDER BY at DESC LIMIT ?')
  const find = database.prepare('SELECT status, record FROM event WHERE plant = ? AND id = ?')
  return {
    list: (plant, limit) =>
      (list.all(plant, limit) as { status: EventSummary['status']; summary: string }[]).map((row) =>
        withStatus(JSON.parse(row.summary) as EventSummary, row.status),
      ),
    find(plant, id) {
      const row = find.get(plant, id) as { status: EventSummary['status']; record: string } | undefined
      return row && withStatus(JSON.parse(row.record) as EventRecord, row.status)
    },
  }
}

/** The row knows better than what was written while the record was open. */
function withStatus<T extends EventSummary>(stored: T, status: EventSummary['status']): T {
  if (stored.status === status) return stored
  const story = stored.story.filter((sentence) => sentence !== 'Still being recorded.')
  return { ...stored, status, story: [...story, 'The server ended before the record did.'] }
}

/** Seven digits are more than any instrument has. */
function compact(record: EventRecord): EventRecord {
  return {
    ...record,
    channels: record.channels.map((channel) => ({
      ...channel,
      at: channel.at.map((at) => Math.round(at * 10) / 10),
      value: channel.value.map((value) => Number(value.toPrecision(7))),
    })),
  }
}
