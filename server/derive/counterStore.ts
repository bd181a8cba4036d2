import type { State } from '../state/openState.ts'
import { QUARTER_MS } from './counting/quarters.ts'
import type { CounterStore, DayRow, DayTotal, QuarterRow, StoredCounter } from './counting/storedCounter.ts'
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
  u95 = excluded.u95, since = excluded.since, source = excluded.source, memory = excluded.memory`

const UPSERT_DAY = `INSERT INTO counter_day (plant, id, day, value, gap_seconds, uncertain_seconds, u95, peak)
  VALUES (?, ?, ?, ?, ?, ?, ?, ?) ON CONFLICT DO UPDATE SET value = excluded.value,
  gap_seconds = excluded.gap_seconds, uncertain_seconds = excluded.uncertain_seconds,
  u95 = excluded.u95, peak = excluded.peak`

const SELECT_QUARTERS = `SELECT quarter, value, gap_seconds AS gapSeconds, uncertain_seconds AS uncertainSeconds, u95, peak
  FROM counter_quarter WHERE plant = ? AND id = ? AND quarter >= ? AND quarter < ? ORDER BY quarter`

const UPSERT_QUARTER = UPSERT_DAY.replace('counter_day', 'counter_quarter').replace('day,', 'quarter,')

/** As long as single readings are kept by default [ms]. */
const QUARTERS_KEPT_MS = 400 * 86_400_000

/** Counters and their days as rows of the state database; all of a plant in one transaction. */
export function createCounterStore({ database, write }: State): CounterStore {
  const select = database.prepare(SELECT)
  const selectDays = database.prepare(SELECT_DAYS)
  const upsert = database.prepare(UPSERT)
  const upsertDay = database.prepare(UPSERT_DAY)
  const selectQuarters = database.prepare(SELECT_QUARTERS)
  const upsertQuarter = database.prepare(UPSERT_QUARTER)
  const prune = database.prepare('DELETE FROM counter_quarter WHERE plant = ? AND id = ? AND quarter < ?')
  const amounts = ({ value, gapSeconds, uncertainSeconds, u95, peak }: DayTotal) =>
    [value, gapSeconds, uncertainSeconds, u95, peak] as const

  function putQuarters(plant: string, id: string, quarters: readonly QuarterRow[]): void {
    for (const one of quarters) upsertQuarter.run(plant, id, one.quarter, ...amounts(one))
    const newest = quarters.at(-1)?.quarter ?? 0
    // once a day is often enough
    if (newest % 86_400_000 < QUARTER_MS) prune.run(plant, id, newest - QUARTERS_KEPT_MS)
  }

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
    quarters: (plant, id, { from, to }) => selectQuarters.all(plant, id, from, to) as QuarterRow[],
    save: (plant, changes, alongside) =>
      write(() => {
        for (const { counter, days, quarters } of changes) {
          const { id, since, source, state, memory } = counter
          const { value, at, last, gapSeconds, uncertainSeconds, u95 } = state
          const text = memory === undefined ? null : JSON.stringify(memory)
          upsert.run(plant, id, value, since, source, at, last, gapSeconds, uncertainSeconds, u95, text)
          for (const day of days) upsertDay.run(plant, id, day.date, ...amounts(day))
          if (quarters.length > 0) putQuarters(plant, id, quarters)
        }
        alongside?.()
      }),
  }
}
