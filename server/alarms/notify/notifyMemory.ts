import type { State } from '../../state/openState.ts'

/** Small things that must be known again after a restart, by name, as JSON. */
export interface NotifyMemory {
  get<T>(key: string): T | undefined
  set(key: string, value: unknown): void
}

export function createNotifyMemory(state: State): NotifyMemory {
  const get = state.database.prepare('SELECT value FROM notify_memory WHERE key = ?')
  const set = state.database.prepare(
    'INSERT INTO notify_memory (key, value) VALUES (?, ?) ON CONFLICT (key) DO UPDATE SET value = excluded.value',
  )
  const known = new Map<string, string>()
  return {
    get<T>(key: string) {
      const text = known.get(key) ?? (get.get(key) as { value: string } | undefined)?.value
      return text === undefined ? undefined : (JSON.parse(text) as T)
    },
    set(key, value) {
      const text = JSON.stringify(value)
      known.set(key, text)
      state.write(() => void set.run(key, text))
    },
  }
}
