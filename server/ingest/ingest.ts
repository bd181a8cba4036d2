import type { Clock } from '../clock.ts'
import type { Plant } from '../plant/plant.ts'
import { toSi } from '../plant/units.ts'
import type { HealthReply, TopicHealth } from '../wire/replies.ts'
import type { Broker, Message } from './broker/broker.ts'
import { isFault, type Sample } from './formats/format.ts'
import { decode } from './formats/index.ts'
import { createJudge, type QualityCounters } from './quality.ts'
import type { Reading } from './reading.ts'
import { scaleValue } from './scale.ts'
import { noteFault, type TopicRecord, topicHealth } from './topicRecord.ts'
import { createUnmappedTopics } from './unmapped.ts'

export interface IngestOptions {
  plants: readonly Plant[]
  broker: Broker
  clock: Clock
  /** Subscribe to everything, to list topics that no plant file knows; for a broker of our own. */
  listUnmapped?: boolean
  /** Called synchronously for every reading, in the order of arrival. Must not throw. */
  onReading: (reading: Reading) => void
}

export interface IngestCounters extends QualityCounters {
  /** Messages on topics of instruments. */
  received: number
  readings: number
  faults: number
}

/**
 * Packets in, readings out, in the callback of the broker: there is no queue, so nothing can be lost in one, and
 * a slow server is felt by the sender through TCP.
 */
export interface Ingest {
  topics(): TopicHealth[]
  unmapped(): HealthReply['unmapped']
  unmappedDropped(): number
  counters(): IngestCounters
  /** Takes over changed plant files; counters go on. */
  replacePlants(plants: readonly Plant[]): void
}

/** Longest payload that is decoded [bytes]. */
const LONGEST_PAYLOAD = 65_536
/** Our own output comes back on the broker of our own. */
const OWN_LEVELS = /^headrace\//

export function createIngest({
  plants,
  broker,
  clock,
  listUnmapped = false,
  onReading,
}: IngestOptions): Ingest {
  const counters: IngestCounters = {
    received: 0,
    readings: 0,
    faults: 0,
    duplicates: 0,
    outOfOrder: 0,
    future: 0,
    tooOld: 0,
  }
  const unmapped = createUnmappedTopics()
  let records = new Map<string, TopicRecord[]>()
  let simulators: string[] = []

  broker.onMessage(takeMessage)
  replacePlants(plants)

  function replacePlants(next: readonly Plant[]): void {
    records = recordsOf(next, counters)
    simulators = next.flatMap((plant) => (plant.simulated ? [`${plant.id}/simulator/`] : []))
    broker.subscribe(listUnmapped ? ['#'] : [...records.keys()])
  }

  function takeMessage(message: Message): void {
    const here = records.get(message.topic)
    if (!here) {
      if (!isOwn(message.topic)) unmapped.note(message.topic, message.payload, message.receivedAt)
      return
    }
    counters.received++
    for (const record of here) takeFor(record, message)
  }

  function isOwn(topic: string): boolean {
    return OWN_LEVELS.test(topic) || simulators.some((prefix) => topic.startsWith(prefix))
  }

  function takeFor(record: TopicRecord, message: Message): void {
    const { payload, receivedAt } = message
    record.received++
    record.lastReceivedAt = receivedAt
    const decoded =
      payload.byteLength > LONGEST_PAYLOAD
        ? { found: `payload has ${payload.byteLength} bytes`, expected: `at most ${LONGEST_PAYLOAD}` }
        : decode(payload, record.instrument)
    if (isFault(decoded)) {
      counters.faults++
      noteFault(record, decoded, payload, clock.now())
      return
    }
    for (const sample of decoded) takeSample(record, sample, message)
  }

  function takeSample(record: TopicRecord, sample: Sample, { receivedAt, retained }: Message): void {
    const { instrument, plant, judge } = record
    const scaled = scaleValue(instrument, sample.value)
    const judged = judge({ scaled, at: sample.at, receivedAt, retained })
    if (!judged) return
    counters.readings++
    const reading: Reading = {
      plant,
      instrument: instrument.id,
      quantity: instrument.quantity,
      value: toSi(scaled.value, instrument.unit),
      receivedAt,
      ...judged,
    }
    if (sample.peak !== undefined)
      reading.peak = toSi(scaleValue(instrument, sample.peak).value, instrument.unit)
    onReading(reading)
  }

  return {
    replacePlants,
    topics: () => [...records.values()].flat().map(topicHealth),
    unmapped: () => unmapped.list(),
    unmappedDropped: () => unmapped.dropped(),
    counters: () => ({ ...counters }),
  }
}

function recordsOf(plants: readonly Plant[], counters: QualityCounters): Map<string, TopicRecord[]> {
  const records = new Map<string, TopicRecord[]>()
  for (const plant of plants) {
    for (const instrument of plant.instruments) {
      const record: TopicRecord = {
        plant: plant.id,
        instrument,
        judge: createJudge(instrument, counters),
        received: 0,
        faults: 0,
        lastReceivedAt: null,
      }
      records.set(instrument.topic, [...(records.get(instrument.topic) ?? []), record])
    }
  }
  return records
}
