import { createBrokerCounters, type Message } from '../../server/ingest/broker/broker.ts'
import type { OpenBroker } from '../../server/ingest/openBroker.ts'

/** A broker without a network: what a test delivers arrives at once, what is published is kept. */
export interface MemoryBroker extends OpenBroker {
  deliver(message: {
    topic: string
    payload: string | Uint8Array
    retained?: boolean
    receivedAt: number
    sender?: string | undefined
    resumedAt?: number | undefined
  }): void
  published: { topic: string; payload: string }[]
}

export function memoryBroker(): MemoryBroker {
  const listeners = new Set<(message: Message) => void>()
  const published: MemoryBroker['published'] = []
  const status = { connected: true, name: 'memory', since: 0 }
  return {
    published,
    url: () => 'mqtt://memory',
    deliver({ payload, retained = false, ...rest }) {
      const bytes = typeof payload === 'string' ? new TextEncoder().encode(payload) : payload
      for (const listener of listeners) listener({ ...rest, payload: bytes, retained })
    },
    start: async () => {},
    subscribe: () => {},
    onMessage(listener) {
      listeners.add(listener)
      return () => listeners.delete(listener)
    },
    onStatus: () => () => {},
    publish: (topic, payload) => {
      published.push({ topic, payload: String(payload) })
    },
    status: () => status,
    counters: createBrokerCounters,
    close: async () => {},
  }
}
