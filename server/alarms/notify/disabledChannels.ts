import type { Channel } from './channels/channel.ts'
import type { NotifyMemory } from './notifyMemory.ts'

/** Channels whose other end said that it wants no more; remembered until they lead somewhere else. */
export interface DisabledChannels {
  reason(channel: string): string | undefined
  disable(channel: string, reason: string): void
  /** A person says that it is there again. */
  enable(channel: string): void
}

export function createDisabledChannels(
  channels: ReadonlyMap<string, Channel>,
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
