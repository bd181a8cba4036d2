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

/** Channels whose other end said that it wants no more; remembered until they lead somewhere else. */
export interface DisabledChannels {
  reason(channel: string): string | undefined
  disable(channel: string, reason: string): void
  /** A person says that it is there again. */
  enable(channel: string): void
}

export function createDisabledChannels(
  channels: ReadonlyMap<string, { target: string }>,
  memory: NotifyMemory,
): DisabledChannels {
  const keyOf = (channel: string) => `disabled:${channel}`
  return {
    reason(channel) {
      const known = memory.get<{ target: string; reason: string } | null>(keyOf(channel))
      return known && known.target === channels.get(channel)?.target ? known.reason : undefined
    },
    disable: (channel, reason) =>
      memory.set(keyOf(channel), { target: channels.get(channel)?.target ?? '', reason }),
    enable: (channel) => memory.set(keyOf(channel), null),
  }
}
