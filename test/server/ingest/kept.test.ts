import { beforeEach, describe, expect, it } from 'vitest'
import type { Message } from '../../../server/ingest/broker/broker.ts'
import { createIngest, type Ingest } from '../../../server/ingest/ingest.ts'
import type { Reading } from '../../../server/ingest/reading.ts'
import type { Plant } from '../../../server/plant/plant.ts'
import { manualClock, START } from '../../support/manualClock.ts'
import { type MemoryBroker, memoryBroker } from '../../support/memoryBroker.ts'
import { plantOf } from '../../support/plants.ts'

const PLANT = plantOf(`
headrace: 1
id: mill
name: My mill
use: offGrid
site: { timeZone: Europe/London }
instruments:
  - { id: speed, role: speed, topic: mill/speed, unit: /min, payload: { format: json, value: /n, time: /at }, staleAfter: 10 s }
  - { id: power, role: activePower, topic: mill/power, unit: kW }
  - { id: valve, topic: mill/valve, unit: "1", periodic: false, payload: { format: json, value: /v, time: /at } }
  - { id: volts, topic: mill/ac, unit: V, payload: { format: lineProtocol, measurement: ac, field: u } }
`)

describe('what a broker kept while nobody was there', () => {
  let broker: MemoryBroker
  let ingest: Ingest
  let readings: Reading[]
  let subscribed: [filters: readonly string[], kept: readonly string[] | undefined][]

  const open = (plants: readonly Plant[]) => {
    broker = memoryBroker()
    subscribed = []
    broker.subscribe = (filters, kept) => void subscribed.push([filters, kept])
    readings = []
    const onReading = (reading: Reading) => void readings.push(reading)
    ingest = createIngest({ plants, broker, clock: manualClock(START), onReading })
  }
  beforeEach(() => open([PLANT]))

  /** In a session that was taken up again at START, after so many ms. */
  function come(topic: string, payload: object | string, afterMs = 0, more: Partial<Message> = {}) {
    const text = typeof payload === 'string' ? payload : JSON.stringify(payload)
    broker.deliver({ topic, payload: text, receivedAt: START + afterMs, resumedAt: START, ...more })
    return readings.at(-1)!
  }
  const speed = (n: number, ageMs: number, afterMs = 0) =>
    come('mill/speed', { n, at: START + afterMs - ageMs }, afterMs)

  it('is asked for of topics whose payloads carry a time for every instrument, and of no other', () => {
    expect(subscribed).toEqual([[['mill/power'], ['mill/speed', 'mill/valve', 'mill/ac']]])
    const mixed = plantOf(`
headrace: 1
id: other
name: Other
use: offGrid
site: { timeZone: Europe/London }
instruments: [{ id: code, topic: mill/valve, unit: "1" }]
`)
    open([PLANT, mixed])
    expect(subscribed[0]![1]).toEqual(['mill/speed', 'mill/ac'])
  })

  it('has its own time and is late where its figure would be stale, in its order too', () => {
    expect([7200, 3600, 60].map((s) => speed(1500, s * 1000))).toMatchObject([
      { measuredAt: START - 7_200_000, late: true, quality: 'good' },
      { measuredAt: START - 3_600_000, late: true },
      { measuredAt: START - 60_000, late: true },
    ])
    expect(speed(1500, 9000)).not.toHaveProperty('late')
    expect(speed(1510, 100)).not.toHaveProperty('late')
    expect(ingest.counters()).toMatchObject({ kept: 3, outOfOrder: 0, tooOld: 0, faults: 0 })
  })

  it('is expected as long as more of it comes, and 30 s after the session was taken up', () => {
    for (let s = 0; s <= 120; s += 20)
      expect(speed(1500, 3_600_000 - s * 10_000, s * 1000)).toHaveProperty('late')
    expect(speed(1500, 2_000_000, 151_000)).not.toHaveProperty('late')
  })

  it('is of an unknown age without a time of its own, or with that of a clock that was never set', () => {
    expect(come('mill/ac', 'ac u=230')).toMatchObject({
      ageUnknown: true,
      quality: 'uncertain',
      reasons: ['kept by the broker, age unknown'],
    })
    expect(come('mill/speed', { n: 1500, at: 12_000 })).toMatchObject({ ageUnknown: true })
    expect(come('mill/speed', { n: 1510 })).toMatchObject({ ageUnknown: true })
    expect(come('mill/ac', 'ac u=231', 31_000)).not.toHaveProperty('ageUnknown')
  })

  it('is history of a topic that speaks only on change, whose retained message is its present', () => {
    const at = START - 3_600_000
    expect(come('mill/valve', { v: 1, at })).toMatchObject({ measuredAt: at, late: true })
    const retained = come('mill/valve', { v: 0, at }, 0, { retained: true })
    expect(retained).toMatchObject({ measuredAt: at, value: 0 })
    expect(retained).not.toHaveProperty('late')
  })

  it('is nothing in a clean session: an old time stays as it was judged', () => {
    const old = { n: 1500, at: START - 3_600_000 }
    expect(come('mill/speed', old, 0, { resumedAt: undefined })).not.toHaveProperty('late')
    expect(come('mill/ac', 'ac u=230', 0, { resumedAt: undefined })).not.toHaveProperty('ageUnknown')
  })
})
