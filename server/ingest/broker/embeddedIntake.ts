import { createListeners } from '../../listeners.ts'
import type { SparseLog } from '../../sparseLog.ts'
import type { BrokerCounters, Message } from './broker.ts'
import type { EmbeddedSettings } from './embeddedOptions.ts'
import { createFilterSet, isOfBroker, matchesFilter } from './topicFilter.ts'

export interface IntakeOptions {
  settings: Pick<EmbeddedSettings, 'clock' | 'maxRetained' | 'maxRetainedBytes'>
  counters: BrokerCounters
  log: SparseLog
}

/** What the embedded broker hands to this process, and the retained messages it would hand to a late subscriber. */
export interface Intake {
  onMessage(listener: (message: Message) => void): () => void
  /** A live message. */
  take(topic: string, payload: Uint8Array, sender?: string): void
  /** @returns false where the limit is reached: the message is then live only. */
  keepRetained(topic: string, payload: Buffer): boolean
  /** @param isLate true once the broker runs: what was retained before is then delivered too, a turn later. */
  subscribe(filters: readonly string[], isLate: boolean): void
}

export function createIntake({ settings, counters, log }: IntakeOptions): Intake {
  const { clock, maxRetained, maxRetainedBytes } = settings
  const messages = createListeners<Message>()
  const filters = createFilterSet()
  const kept = new Map<string, Buffer>()
  let keptBytes = 0

  function deliver(message: Message): void {
    counters.received++
    counters.receivedBytes += message.payload.length
    messages.call(message)
  }

  return {
    onMessage: messages.add,
    take(topic, payload, sender) {
      // In process "#" matches the broker's own "$SYS/…" messages too.
      if (!isOfBroker(topic) && filters.matches(topic))
        deliver({ topic, payload, retained: false, receivedAt: clock.now(), sender })
    },
    keepRetained(topic, payload) {
      // an empty payload clears, MQTT 3.1.1 § 3.3.1.3
      const bytes = keptBytes - (kept.get(topic)?.length ?? 0) + payload.length
      if (payload.length === 0) {
        kept.delete(topic)
        keptBytes = bytes
        return true
      }
      if (!kept.has(topic) && kept.size >= maxRetained) {
        log('retained', `broker: "${topic}" is not retained: ${maxRetained} topics are already`)
        return false
      }
      if (bytes > maxRetainedBytes) {
        log(
          'retained',
          `broker: "${topic}" is not retained: ${keptBytes} bytes are already, at most ${maxRetainedBytes}`,
        )
        return false
      }
      kept.set(topic, payload)
      keptBytes = bytes
      return true
    },
    subscribe(wanted, isLate) {
      const added = filters.add(wanted)
      if (!isLate || added.length === 0) return
      setImmediate(() => {
        for (const [topic, payload] of kept)
          if (added.some((filter) => matchesFilter(filter, topic)))
            deliver({ topic, payload, retained: true, receivedAt: clock.now() })
      })
    },
  }
}
