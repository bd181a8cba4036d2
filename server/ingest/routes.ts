import type { Instrument, Plant } from '../plant/plant.ts'
import { type Decoder, decoderFor } from './formats/index.ts'
import { createGapWatch } from './gapWatch.ts'
import { createJudge, type QualityCounters } from './quality.ts'
import type { TopicRecord } from './topics.ts'

/** The instruments of one topic that read its packets in one way, so that a packet is parsed once for all of them. */
export interface Readers {
  parse: Decoder['parse']
  records: TopicRecord[]
}

/** By topic; nearly every topic has one reader with one record. */
export type Routes = ReadonlyMap<string, readonly Readers[]>

/** @param before routes whose counters of the same plant, instrument and topic go on. */
export function routesOf(plants: readonly Plant[], counters: QualityCounters, before: Routes): Routes {
  const known = new Map(recordsOf(before).map((record) => [keyOf(record), record]))
  const routes = new Map<string, Readers[]>()
  for (const plant of plants) {
    for (const instrument of plant.instruments) {
      const { parse, pick } = decoderFor(instrument)
      const record = {
        received: 0,
        faults: 0,
        lastReceivedAt: null,
        gaps: createGapWatch(),
        ...known.get(keyOf({ plant: plant.id, instrument })),
        plant: plant.id,
        instrument,
        pick,
        judge: createJudge(instrument, counters),
      }
      join(routes, parse, record)
    }
  }
  return routes
}

/** Topics whose payloads carry their own time, as far as the plant files tell, for every instrument that reads them. */
export function timedTopics(plants: readonly Plant[]): Set<string> {
  const instruments = plants.flatMap((plant) => plant.instruments)
  const untimed = new Set(instruments.filter((one) => !isTimed(one)).map(({ topic }) => topic))
  return new Set(instruments.map(({ topic }) => topic).filter((topic) => !untimed.has(topic)))
}

function isTimed({ payload }: Instrument): boolean {
  if (payload === 'number') return false
  return payload.format === 'lineProtocol' || payload.time !== undefined
}

export function recordsOf(routes: Routes): TopicRecord[] {
  return [...routes.values()].flatMap((readers) => readers.flatMap(({ records }) => records))
}

function join(routes: Map<string, Readers[]>, parse: Decoder['parse'], record: TopicRecord): void {
  const readers = routes.get(record.instrument.topic) ?? []
  routes.set(record.instrument.topic, readers)
  const alike = readers.find((one) => one.parse === parse)
  if (alike) alike.records.push(record)
  else readers.push({ parse, records: [record] })
}

function keyOf({ plant, instrument }: Pick<TopicRecord, 'plant' | 'instrument'>): string {
  return JSON.stringify([plant, instrument.id, instrument.topic])
}
