import type { Instrument } from '../plant/plant.ts'
import type { HealthReply, TopicHealth } from '../wire/replies.ts'
import type { Message } from './broker/broker.ts'
import type { Fault } from './formats/format.ts'
import type { Decoder } from './formats/index.ts'
import { exampleOf } from './formats/payloadText.ts'
import type { GapWatch } from './gapWatch.ts'
import type { Judge } from './quality.ts'

/** One instrument on one topic, with what came over it. */
export interface TopicRecord {
  plant: string
  instrument: Instrument
  pick: Decoder['pick']
  judge: Judge
  received: number
  faults: number
  lastReceivedAt: number | null
  gaps: GapWatch
  lastFault?: { at: number; message: string; example: string }
}

/**
 * Counts a fault and keeps the last as an example. The sentence says where, what came, what was expected and what
 * was kept.
 */
export function noteFault(record: TopicRecord, fault: Fault, { payload, receivedAt: at }: Message): void {
  record.faults++
  const { topic, name } = record.instrument
  const time = new Date(at).toISOString().slice(11, 19)
  const kept = fault.kept ?? `Nothing was taken from it; "${name}" keeps its last value, which ages.`
  record.lastFault = {
    at,
    message:
      `ingest: topic "${topic}" at ${time}Z: ${fault.found}, expected ${fault.expected}. ${kept} ` +
      `Faults of this instrument since start: ${record.faults}.`,
    example: exampleOf(payload),
  }
}

export function topicHealth(record: TopicRecord): TopicHealth {
  const { plant, instrument, received, faults, lastReceivedAt, lastFault, gaps } = record
  return {
    topic: instrument.topic,
    plant,
    instrument: instrument.id,
    received,
    faults,
    lastReceivedAt,
    everyMs: gaps.every(),
    ...(lastFault ? { lastFault } : {}),
  }
}

type Unmapped = HealthReply['unmapped'][number]

const MOST_TOPICS = 200
const LONGEST_TOPIC = 256

/** Topics that belong to no instrument: listed up to a limit, so that a flood of topics costs no memory. */
export interface UnmappedTopics {
  note(topic: string, payload: Uint8Array, at: number): void
  list(): Unmapped[]
  /** Messages on topics that the list has no room for. */
  dropped(): number
}

export function createUnmappedTopics(): UnmappedTopics {
  const topics = new Map<string, Unmapped>()
  let dropped = 0
  return {
    note(topic, payload, at) {
      const name = topic.slice(0, LONGEST_TOPIC)
      const known = topics.get(name)
      if (known) {
        known.received++
        known.lastReceivedAt = at
      } else if (topics.size < MOST_TOPICS) {
        topics.set(name, { topic: name, received: 1, example: exampleOf(payload), lastReceivedAt: at })
      } else dropped++
    },
    list: () => [...topics.values()],
    dropped: () => dropped,
  }
}
