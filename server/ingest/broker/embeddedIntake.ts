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

/** Room for what is retained, up to a number and a sum of bytes. */
interface Room {
  topics: number
  bytes: number
}

export function createIntake({ settings, counters, log }: IntakeOptions): Intake {
  const { clock, maxRetained, maxRetainedBytes } = settings
  /** What the server tells has room of its own, so that no client takes it. */
  const rooms = { own: { topics: 0, bytes: 0 }, theirs: { topics: 0, bytes: 0 } }
  const messages = createListeners<Message>()
  const filters = createFilterSet()
  const kept = new Map<string, Buffer>()

  function roomOf(topic: string): Room {
    return topic.startsWith('headrace/') ? rooms.own : rooms.theirs
  }

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
      const room = roomOf(topic)
      const isKnown = kept.has(topic)
      const bytes = room.bytes - (kept.get(topic)?.length ?? 0) + payload.length
      if (payload.length === 0) {
        if (kept.delete(topic)) room.topics--
        room.bytes = bytes
        return true
      }
      if (!isKnown && room.topics >= maxRetained) {
        log('retained', `broker: "${topic}" is not retained: ${maxRetained} topics are already`)
        return false
      }
      if (bytes > maxRetainedBytes) {
        log(
          'retained',
          `broker: "${topic}" is not retained: ${room.bytes} bytes are already, at most ${maxRetainedBytes}`,
        )
        return false
      }
      kept.set(topic, payload)
      if (!isKnown) room.topics++
      room.bytes = bytes
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
