import type { Instrument } from '../plant/plant.ts'
import type { TopicHealth } from '../wire/replies.ts'
import type { Message } from './broker/broker.ts'
import type { Fault } from './formats/format.ts'
import type { Decoder } from './formats/index.ts'
import { exampleOf } from './formats/payloadText.ts'
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
  const { plant, instrument, received, faults, lastReceivedAt, lastFault } = record
  return {
    topic: instrument.topic,
    plant,
    instrument: instrument.id,
    received,
    faults,
    lastReceivedAt,
    ...(lastFault ? { lastFault } : {}),
  }
}
