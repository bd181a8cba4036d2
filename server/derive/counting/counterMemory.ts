import type { CounterStore, DayRow, DayTotal, QuarterRow, StoredCounter } from './storedCounter.ts'

/** Counters that go with whoever counts, for what is counted anew beside those that are kept. */
export function createCounterMemory(): CounterStore {
  const counters = new Map<string, StoredCounter>()
  const days = new Map<string, Map<string, DayRow>>()
  const quarters = new Map<string, Map<number, QuarterRow>>()
  const keyOf = (plant: string, id: string) => `${plant}/${id}`

  return {
    load: (plant, id) => counters.get(keyOf(plant, id)),
    days: (plant, id, { from, to }) =>
      between(days.get(keyOf(plant, id)), (row) => row.date >= from && row.date <= to),
    quarters: (plant, id, { from, to }) =>
      between(quarters.get(keyOf(plant, id)), (row) => row.quarter >= from && row.quarter < to),
    save(plant, changes, alongside) {
      for (const change of changes) {
        const key = keyOf(plant, change.counter.id)
        counters.set(key, change.counter)
        keep(days, key).by(change.days, (row) => row.date)
        keep(quarters, key).by(change.quarters, (row) => row.quarter)
      }
      alongside?.()
      return true
    },
  }
}

function between<Key extends string | number, Row extends DayTotal>(
  rows: ReadonlyMap<Key, Row> | undefined,
  isIn: (row: Row) => boolean,
): Row[] {
  return [...(rows ?? [])]
    .sort(([a], [b]) => (a < b ? -1 : 1))
    .map(([, row]) => row)
    .filter(isIn)
}

function keep<Key, Row>(tables: Map<string, Map<Key, Row>>, key: string) {
  const table = tables.get(key) ?? new Map<Key, Row>()
  tables.set(key, table)
  return {
    by(rows: readonly Row[], keyOf: (row: Row) => Key) {
      for (const row of rows) table.set(keyOf(row), row)
    },
  }
}
