import type { State } from '../state/openState.ts'
import type { CounterStore, DayRow, StoredCounter } from './counting/storedCounter.ts'
import type { CounterState } from './integrate.ts'

type Row = Pick<StoredCounter, 'since' | 'source'> & CounterState & { memory: string | null }

const SELECT = `SELECT value, since, source, at, last, gap_seconds AS gapSeconds,
  uncertain_seconds AS uncertainSeconds, u95, memory FROM counter WHERE plant = ? AND id = ?`

const SELECT_DAYS = `SELECT day AS date, value, gap_seconds AS gapSeconds, uncertain_seconds AS uncertainSeconds, u95, peak
  FROM counter_day WHERE plant = ? AND id = ? AND day BETWEEN ? AND ? ORDER BY day`

const UPSERT = `INSERT INTO counter
  (plant, id, value, since, source, at, last, gap_seconds, uncertain_seconds, u95, memory)
  VALUES (?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?) ON CONFLICT DO UPDATE SET value = excluded.value, at = excluded.at,
  last = excluded.last, gap_seconds = excluded.gap_seconds, uncertain_seconds = excluded.uncertain_seconds,
  u95 = excluded.u95, source = excluded.source, memory = excluded.memory`

const UPSERT_DAY = `INSERT INTO counter_day (plant, id, day, value, gap_seconds, uncertain_seconds, u95, peak)
  VALUES (?, ?, ?, ?, ?, ?, ?, ?) ON CONFLICT DO UPDATE SET value = excluded.value,
  gap_seconds = excluded.gap_seconds, uncertain_seconds = excluded.uncertain_seconds,
  u95 = excluded.u95, peak = excluded.peak`

/** Counters and their days as rows of the state database; all of a plant in one transaction. */
export function createCounterStore({ database, write }: State): CounterStore {
  const select = database.prepare(SELECT)
  const selectDays = database.prepare(SELECT_DAYS)
  const upsert = database.prepare(UPSERT)
  const upsertDay = database.prepare(UPSERT_DAY)
  return {
    load(plant, id) {
      // `get` of this library would add a field of its own to the row.
      const [row] = select.all(plant, id) as Row[]
      if (!row) return undefined
      // Field by field: the database puts something of its own into every row.
      const { since, source, memory, value, at, last, gapSeconds, uncertainSeconds, u95 } = row
      const state = { value, at, last, gapSeconds, uncertainSeconds, u95 }
      const counter = { id, since, source, state }
      return memory === null ? counter : { ...counter, memory: JSON.parse(memory) }
    },
    days: (plant, id, { from, to }) => selectDays.all(plant, id, from, to) as DayRow[],
    save: (plant, changes) =>
      write(() => {
        for (const { counter, days } of changes) {
          const { id, since, source, state, memory } = counter
          const { value, at, last, gapSeconds, uncertainSeconds, u95 } = state
          const text = memory === undefined ? null : JSON.stringify(memory)
          upsert.run(plant, id, value, since, source, at, last, gapSeconds, uncertainSeconds, u95, text)
          for (const day of days)
            upsertDay.run(
              plant,
              id,
              day.date,
              day.value,
              day.gapSeconds,
              day.uncertainSeconds,
              day.u95,
              day.peak,
            )
        }
      }),
  }
}
