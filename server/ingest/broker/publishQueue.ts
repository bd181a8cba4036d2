/** One own message. */
export interface Outgoing {
  topic: string
  payload: string | Uint8Array
  retain: boolean
}

/**
 * Own messages that wait for the broker: at most `limit`. A newer retained message takes the place of an older one
 * for the same topic, since the broker would keep only the last; beyond the limit the oldest is dropped.
 *
 * @param onDropped called once per message that is given up.
 */
export function createPublishQueue(limit: number, onDropped: () => void) {
  const waiting = new Map<string, Outgoing>()
  let sequence = 0
  return {
    add(message: Outgoing): void {
      const key = message.retain ? `r ${message.topic}` : `n ${sequence++}`
      waiting.delete(key)
      if (waiting.size >= limit) {
        waiting.delete(waiting.keys().next().value!)
        onDropped()
      }
      waiting.set(key, message)
    },
    /** The oldest, removed; undefined when empty. */
    take(): Outgoing | undefined {
      const first = waiting.entries().next()
      if (first.done) return undefined
      waiting.delete(first.value[0])
      return first.value[1]
    },
    size: () => waiting.size,
    /** Gives up what waits. */
    clear(): void {
      for (let left = waiting.size; left > 0; left--) onDropped()
      waiting.clear()
    },
  }
}

export type PublishQueue = ReturnType<typeof createPublishQueue>
