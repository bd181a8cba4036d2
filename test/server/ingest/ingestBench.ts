import { createBrokerCounters, type Message } from '../../../server/ingest/broker/broker.ts'
import { createIngest, type Ingest } from '../../../server/ingest/ingest.ts'
import type { Reading } from '../../../server/ingest/reading.ts'
import type { Plant } from '../../../server/plant/plant.ts'
import { plantOf } from '../../support/plants.ts'
import { createSteppedClock, NOON } from './steppedClock.ts'

const HEAD = `
name: Test mill
site: { timeZone: Europe/London }
instruments:
`

/** A plant with these instruments, each the inside of a YAML mapping. */
export function plantWith(...instruments: string[]): Plant {
  return plantOf(HEAD + instruments.map((one) => `  - { ${one} }`).join('\n'))
}

/** An ingest whose broker is this test. */
export interface IngestBench {
  ingest: Ingest
  readings: Reading[]
  /** Filters the ingest has asked for. */
  filters: string[]
  clock: ReturnType<typeof createSteppedClock>
  /** @returns the readings that came of it. */
  send(topic: string, payload: string | Uint8Array, more?: Partial<Message>): Reading[]
}

export function benchWith(plants: Plant | Plant[], listUnmapped = false): IngestBench {
  const clock = createSteppedClock()
  const readings: Reading[] = []
  const filters: string[] = []
  let listener: (message: Message) => void = () => {}
  const broker = {
    start: async () => {},
    close: async () => {},
    subscribe: (wanted: readonly string[]) => void filters.push(...wanted),
    onMessage: (one: (message: Message) => void) => {
      listener = one
      return () => {}
    },
    onStatus: () => () => {},
    publish: () => {},
    status: () => ({ connected: true, name: 'test', since: NOON }),
    counters: createBrokerCounters,
  }
  const ingest = createIngest({
    plants: [plants].flat(),
    broker,
    clock,
    listUnmapped,
    onReading: (reading) => readings.push(reading),
  })
  return {
    ingest,
    readings,
    filters,
    clock,
    send(topic, payload, more = {}) {
      const before = readings.length
      const bytes = typeof payload === 'string' ? Buffer.from(payload) : payload
      listener({ topic, payload: bytes, retained: false, receivedAt: clock.now(), ...more })
      return readings.slice(before)
    },
  }
}

/** The sentence about the last fault of the only instrument. */
export function lastFault({ ingest }: IngestBench): string {
  return ingest.topics()[0]?.lastFault?.message ?? ''
}
