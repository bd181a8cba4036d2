import type { Instrument } from '../plant/plant.ts'
import type { TopicHealth } from '../wire/replies.ts'
import { type DecodeFault, exampleOf } from './formats/format.ts'
import type { Judge } from './quality.ts'

/** One instrument on one topic, with what came over it. */
export interface TopicRecord {
  plant: string
  instrument: Instrument
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
export function noteFault(record: TopicRecord, fault: DecodeFault, payload: Uint8Array, at: number): void {
  record.faults++
  const time = new Date(at).toISOString().slice(11, 19)
  record.lastFault = {
    at,
    message:
      `ingest: topic "${record.instrument.topic}" at ${time}Z: ${fault.found}, expected ${fault.expected}. ` +
      `The message was dropped; ${record.instrument.name.toLowerCase()} keeps its last value and ages. ` +
      `${record.faults} such faults since start.`,
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
