import type { Clock } from '../clock.ts'
import type { Plant } from '../plant/plant.ts'
import type { HealthReply, TopicHealth } from '../wire/replies.ts'
import type { Broker, Message } from './broker/broker.ts'
import type { Fault } from './formats/format.ts'
import { createKeptWatch } from './keptWatch.ts'
import type { Reading } from './reading.ts'
import { type SampleCounters, type SampleSinks, takeSample } from './readings.ts'
import { type Readers, type Routes, recordsOf, routesOf, timedTopics } from './routes.ts'
import { createUnmappedTopics, noteFault, type TopicRecord, topicHealth } from './topics.ts'

export interface IngestOptions {
  plants: readonly Plant[]
  broker: Broker
  clock: Clock
  /** Subscribe to everything, to list topics that no plant file knows; for a broker of our own. Default false. */
  listUnmapped?: boolean
  /** Called synchronously for every reading, in the order of arrival. Must not throw. */
  onReading: (reading: Reading) => void
}

export interface IngestCounters extends SampleCounters {
  /** Messages on topics of instruments. */
  received: number
  /** Counted per instrument: a broken payload that three instruments read is three faults. */
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
const OWN_LEVEL = 'headrace/'

export function createIngest(options: IngestOptions): Ingest {
  const { broker, listUnmapped = false } = options
  const counters = createCounters()
  const unmapped = createUnmappedTopics()
  const sinks: SampleSinks = {
    counters,
    kept: createKeptWatch(),
    onReading: options.onReading,
    onFault(record, fault, message) {
      counters.faults++
      noteFault(record, fault, message)
    },
  }
  let routes: Routes = new Map()
  let ownPrefixes: string[] = []

  function replacePlants(plants: readonly Plant[]): void {
    routes = routesOf(plants, counters, routes)
    const simulators = plants.filter((plant) => plant.simulated)
    ownPrefixes = [OWN_LEVEL, ...simulators.map((plant) => `${plant.id}/simulator/`)]
    const topics = [...routes.keys()]
    const timed = timedTopics(plants)
    if (listUnmapped) broker.subscribe(['#'])
    else
      broker.subscribe(
        topics.filter((topic) => !timed.has(topic)),
        [...timed],
      )
  }

  function takeMessage(message: Message): void {
    const { topic } = message
    const readers = routes.get(topic)
    if (readers) {
      counters.received++
      takePacket(readers, message, sinks)
    } else noteOther(message)
  }

  function noteOther({ topic, payload, receivedAt }: Message): void {
    if (!routes.has(topic) && !ownPrefixes.some((prefix) => topic.startsWith(prefix)))
      unmapped.note(topic, payload, receivedAt)
  }

  broker.onMessage(takeMessage)
  broker.onOther?.(noteOther)
  replacePlants(options.plants)
  return {
    replacePlants,
    topics: () => recordsOf(routes).map(topicHealth),
    unmapped: unmapped.list,
    unmappedDropped: unmapped.dropped,
    counters: () => ({ ...counters }),
  }
}

/** Every instrument of the topic gets its samples or a fault; at least one of them gets something. */
function takePacket(readers: readonly Readers[], message: Message, sinks: SampleSinks): void {
  const absent: [TopicRecord, Fault][] = []
  let isTaken = false
  for (const { parse, records } of readers) {
    const parsed = message.payload.length > LONGEST_PAYLOAD ? tooLong(message) : parse(message.payload)
    for (const record of records) {
      record.received++
      record.lastReceivedAt = message.receivedAt
      if (!message.retained) record.gaps.note(message.receivedAt)
      if ('fault' in parsed) {
        sinks.onFault(record, parsed.fault, message)
        continue
      }
      const decoded = record.pick(parsed.document)
      for (const sample of decoded.samples) takeSample({ record, sample, message }, sinks)
      if (decoded.fault) sinks.onFault(record, decoded.fault, message)
      if (decoded.samples.length > 0 || decoded.fault) isTaken = true
      else if (decoded.absent) absent.push([record, decoded.absent])
    }
  }
  if (!isTaken) for (const [record, fault] of absent) sinks.onFault(record, fault, message)
}

function tooLong({ payload }: Message): { fault: Fault } {
  const found = `payload of ${payload.length} bytes`
  return { fault: { found, expected: `at most ${LONGEST_PAYLOAD} bytes` } }
}

function createCounters(): IngestCounters {
  return {
    received: 0,
    readings: 0,
    faults: 0,
    duplicates: 0,
    outOfOrder: 0,
    future: 0,
    clockUnset: 0,
    tooOld: 0,
    clockBehind: 0,
    kept: 0,
  }
}
