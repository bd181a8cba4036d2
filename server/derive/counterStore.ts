import type { State } from '../state/openState.ts'
import type { CounterStore } from './counters.ts'

interface Row {
  value: number
  since: number
  at: number | null
  last: number | null
  gap_seconds: number
  uncertain_seconds: number
}

/** Counters as rows of the state database; all of a plant in one transaction. */
export function createCounterStore(state: State): CounterStore {
  const select = state.database.prepare('SELECT * FROM counter WHERE plant = ? AND id = ?')
  const upsert = state.database.prepare(
    `INSERT INTO counter (plant, id, value, since, at, last, gap_seconds, uncertain_seconds)
     VALUES (?, ?, ?, ?, ?, ?, ?, ?) ON CONFLICT DO UPDATE SET value = excluded.value, at = excluded.at,
     last = excluded.last, gap_seconds = excluded.gap_seconds, uncertain_seconds = excluded.uncertain_seconds`,
  )
  return {
    load(plant, id) {
      const row = select.get(plant, id) as Row | undefined
      if (!row) return undefined
      const { value, since, at, last, gap_seconds: gapSeconds, uncertain_seconds: uncertainSeconds } = row
      return { value, since, at, last, gapSeconds, uncertainSeconds }
    },
    save: (plant, counters) =>
      state.write(() => {
        for (const { id, since, state: one } of counters)
          upsert.run(plant, id, one.value, since, one.at, one.last, one.gapSeconds, one.uncertainSeconds)
      }),
  }
}
