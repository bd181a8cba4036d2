import { describe, expect, it } from 'vitest'
import { createReadingBuffer, readColumns } from '../../../server/channel/readingColumns.ts'
import type { Reading } from '../../../server/ingest/reading.ts'
import { START } from '../../support/manualClock.ts'
import { plantOf } from '../../support/plants.ts'

const MILL = plantOf('instruments: [{ id: tacho, role: speed, topic: mill/speed, unit: /min }]')
const RIG = plantOf(`
id: rig
instruments:
  - { id: meter, role: activePower, topic: rig/power, unit: kW }
  - { id: tacho, role: speed, topic: rig/speed, unit: /min }`)

const reading = (value: number, more: Partial<Reading> = {}): Reading => ({
  plant: 'rig',
  instrument: 'tacho',
  quantity: 'speed',
  value,
  measuredAt: START - 5,
  receivedAt: START,
  quality: 'good',
  reasons: [],
  ...more,
})

// What is checked is that nothing is lost or changed on the way; no outside source.
describe('readings as columns', () => {
  const plants = [MILL, RIG]
  const read = (buffer: ReturnType<typeof createReadingBuffer>) => {
    const { readings, lost } = buffer.take()
    const all: Reading[] = []
    readColumns(structuredClone(readings), plants, (one) => all.push(one))
    return { all, lost }
  }

  it('are the same readings again at the other end of a clone, in their order', () => {
    const sent = [
      reading(157.1),
      reading(0.1 + 0.2, { plant: 'mill', quality: 'uncertain', reasons: ['no time of its own'] }),
      reading(-0, { instrument: 'meter', quantity: 'activePower', quality: 'bad', reasons: ['a', 'b'] }),
      reading(1, { late: true, peak: 190.25, doubt: 'senders' }),
      reading(2, { ageUnknown: true }),
    ]
    const buffer = createReadingBuffer(plants, 100)
    for (const one of sent) buffer.add(one)
    expect(read(buffer)).toEqual({ all: sent, lost: 0 })
    expect(read(buffer)).toEqual({ all: [], lost: 0 })
  })

  it('make room as they come, and give the older half up at the limit, counted', () => {
    const buffer = createReadingBuffer(plants, 1000)
    for (let i = 0; i < 1001; i++) buffer.add(reading(i, i % 7 === 0 ? { reasons: [`reason ${i}`] } : {}))
    expect(buffer.length()).toBe(501)
    expect(buffer.dropped()).toBe(500)
    const { all, lost } = read(buffer)
    expect(lost).toBe(500)
    expect(all.map(({ value }) => value)).toEqual(Array.from({ length: 501 }, (_, i) => 500 + i))
    expect(all.flatMap(({ value, reasons }) => (reasons.length > 0 ? [[value, reasons[0]]] : []))[0]).toEqual(
      [504, 'reason 504'],
    )
  })

  it('leave out what no plant has', () => {
    const buffer = createReadingBuffer(plants, 10)
    buffer.add(reading(1, { plant: 'gone' }))
    buffer.add(reading(1, { instrument: 'gone' }))
    expect(buffer.length()).toBe(0)
  })
})
