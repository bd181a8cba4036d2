import { describe, expect, it } from 'vitest'
import { benchWith, lastFault, plantWith } from './ingestBench.ts'
import { NOON } from './steppedClock.ts'

/** Values with their times. */
const JSON_TIMED = 'payload: { format: json, value: /v, time: /t }'
const gauge = (more = '') => plantWith(`id: gauge, topic: t, unit: bar, range: [0, 4]${more && `, ${more}`}`)
const at = (v: number, t: number) => JSON.stringify({ v, t })

describe('a value beyond the range of its instrument', () => {
  // 5 % of the span of 4 bar is 0.2 bar; common practice has bands for the loop only, so this is a rule of the house.
  it.each([
    ['4', 'good', []],
    ['0', 'good', []],
    ['4.15', 'uncertain', ['above range 4 bar']],
    ['4.25', 'bad', ['above range 4 bar']],
    ['-0.15', 'uncertain', ['below range 0 bar']],
    ['-0.25', 'bad', ['below range 0 bar']],
  ])('%s bar of 0 … 4 is %s and keeps its value', (payload, quality, reasons) => {
    const [reading] = benchWith(gauge()).send('t', payload)
    expect(reading).toMatchObject({ quality, reasons })
    expect(reading!.value).toBeCloseTo(Number(payload) * 1e5, 6)
  })

  it('is judged by the current where it comes from a loop', () => {
    const bench = benchWith(gauge('scale: { kind: loop }'))
    // 3.9 mA is a valid measurement by NE 43 although it is below 0 bar
    expect(bench.send('t', '3.9')[0]).toMatchObject({ quality: 'good', reasons: [] })
    expect(bench.send('t', '3.5')[0]).toMatchObject({ quality: 'bad' })
  })
})

describe('a retained message', () => {
  it('without a time of its own is shown as of unknown age', () => {
    const [reading] = benchWith(gauge()).send('t', '2', { retained: true })
    expect(reading).toMatchObject({
      quality: 'uncertain',
      reasons: ['retained, age unknown'],
      ageUnknown: true,
      measuredAt: NOON,
    })
  })

  it('gives way to the first live reading, even one with an earlier time', () => {
    const bench = benchWith(gauge(JSON_TIMED))
    bench.send('t', '{"v":2}', { retained: true })
    const [live] = bench.send('t', at(3, NOON - 500))
    expect(live).toMatchObject({ quality: 'good', measuredAt: NOON - 500 })
    expect(live).not.toHaveProperty('late')
  })

  it('that only repeats the latest reading after a reconnect is a duplicate', () => {
    const bench = benchWith(gauge())
    bench.send('t', '2')
    expect(bench.send('t', '2', { retained: true })).toEqual([])
    expect(bench.ingest.counters().duplicates).toBe(1)
    expect(bench.send('t', '3', { retained: true })[0]).toMatchObject({ ageUnknown: true })
  })

  it('with a time of its own is a reading of that time', () => {
    const [reading] = benchWith(gauge(JSON_TIMED)).send('t', at(2, NOON - 60_000), { retained: true })
    expect(reading).toMatchObject({ quality: 'good', measuredAt: NOON - 60_000 })
    expect(reading).not.toHaveProperty('ageUnknown')
  })
})

describe('the time of a reading', () => {
  it('is that of the payload up to 1 s ahead of this clock', () => {
    const [reading] = benchWith(gauge(JSON_TIMED)).send('t', at(2, NOON + 1000))
    expect(reading).toMatchObject({ measuredAt: NOON + 1000, quality: 'good' })
  })

  it.each([
    [1001, '1 s'],
    [12_000, '12 s'],
    [1_500_000, '25 min'],
    [7 * 86_400_000, '7 days'],
    [73 * 365.25 * 86_400_000, '73 years'],
    [1e300, 'more than 1000 years'],
  ])('is that of arrival when the payload is %d ms ahead', (ahead, span) => {
    const bench = benchWith(gauge(JSON_TIMED))
    const [reading] = bench.send('t', at(2, NOON + ahead))
    expect(reading).toMatchObject({
      measuredAt: NOON,
      quality: 'uncertain',
      reasons: [`device clock ahead ${span}`],
    })
    expect(bench.ingest.counters().future).toBe(1)
    // and the next one, with a right clock, counts
    bench.clock.step(1000)
    expect(bench.send('t', at(3, NOON + 1000))[0]).not.toHaveProperty('late')
  })

  it.each([0, -1e300, Date.UTC(2019, 11, 31)])(
    'is that of arrival when the device clock was never set (%d)',
    (t) => {
      const bench = benchWith(gauge(JSON_TIMED))
      expect(bench.send('t', at(2, t))[0]).toMatchObject({
        measuredAt: NOON,
        quality: 'uncertain',
        reasons: ['device clock not set'],
      })
      expect(bench.ingest.counters().clockUnset).toBe(1)
    },
  )

  it('older than a day is recorded only, counted, and told to the operator', () => {
    const bench = benchWith(gauge(JSON_TIMED))
    const [reading] = bench.send('t', at(2, NOON - 86_400_001))
    expect(reading).toMatchObject({ measuredAt: NOON - 86_400_001, late: true })
    expect(bench.ingest.counters()).toMatchObject({ tooOld: 1, faults: 1, readings: 1 })
    expect(lastFault(bench)).toContain(
      'the time of measurement is 2026-07-31T11:59:59.999Z, expected one of the last 24 hours. ' +
        'The value was recorded at that time and is not taken for the present one.',
    )
    expect(bench.send('t', at(3, NOON - 3000))[0]).not.toHaveProperty('late')
  })

  it('may be older than a day where the instrument sends only on change', () => {
    const bench = benchWith(gauge(`${JSON_TIMED}, periodic: false`))
    const [reading] = bench.send('t', at(1, NOON - 5 * 86_400_000), { retained: true })
    expect(reading).toMatchObject({ quality: 'good', measuredAt: NOON - 5 * 86_400_000 })
    expect(reading).not.toHaveProperty('late')
  })

  it('before that of the latest reading makes it late: recorded, never the present value', () => {
    const bench = benchWith(gauge(JSON_TIMED))
    bench.send('t', at(2, NOON - 1000))
    expect(bench.send('t', at(3, NOON - 2000))[0]).toMatchObject({ late: true, measuredAt: NOON - 2000 })
    expect(bench.ingest.counters().outOfOrder).toBe(1)
  })

  it('equal to that of the latest reading, with the same value, is a duplicate; with another it is not', () => {
    const bench = benchWith(gauge(JSON_TIMED))
    bench.send('t', at(2, NOON))
    expect(bench.send('t', at(2, NOON))).toEqual([])
    expect(bench.ingest.counters().duplicates).toBe(1)
    expect(bench.send('t', at(3, NOON))[0]).not.toHaveProperty('late')
  })

  it('is never out of order where the payload has none, even when this clock is set back', () => {
    const bench = benchWith(gauge())
    bench.send('t', '2')
    bench.clock.set(NOON - 3_600_000)
    expect(bench.send('t', '3')[0]).not.toHaveProperty('late')
    expect(bench.send('t', '3')).toHaveLength(1)
  })

  it('does not blind the server for an hour when this clock is set back by one', () => {
    const bench = benchWith(gauge(JSON_TIMED))
    bench.send('t', at(2, NOON))
    bench.clock.set(NOON - 3_600_000)
    expect(bench.send('t', at(3, NOON - 3_600_000))[0]).not.toHaveProperty('late')
  })
})

describe('a device whose clock is set back', () => {
  const HOUR = 3_600_000
  /** Readings every 100 ms, stamped by a clock that is `behind` [ms]. */
  function send(bench: ReturnType<typeof benchWith>, behind: number, count: number) {
    return Array.from({ length: count }, (_, i) => {
      bench.clock.step(100)
      return bench.send('t', at(1 + i / 1000, bench.clock.now() - behind))[0]!
    })
  }

  it('is believed again after a second, stamped with arrival and told as a clock that is behind', () => {
    const bench = benchWith(gauge(JSON_TIMED))
    send(bench, 0, 5)
    const readings = send(bench, HOUR, 20)
    expect(readings[5]).toMatchObject({ late: true })
    expect(readings.filter((one) => one.late).length).toBeLessThanOrEqual(11)
    expect(readings[19]).toMatchObject({
      quality: 'uncertain',
      reasons: ['device clock behind 60 min'],
      measuredAt: bench.clock.now(),
    })
    expect(readings[19]).not.toHaveProperty('late')
  })

  it('keeps its own time again once it is right', () => {
    const bench = benchWith(gauge(JSON_TIMED))
    send(bench, 0, 5)
    send(bench, HOUR, 20)
    const [reading] = send(bench, 0, 1)
    expect(reading).toMatchObject({ quality: 'good', measuredAt: bench.clock.now() })
  })

  it('by no more than clocks may differ keeps its own time, without a remark', () => {
    const bench = benchWith(gauge(JSON_TIMED))
    send(bench, 0, 5)
    const last = send(bench, 3000, 20).at(-1)
    expect(last).toMatchObject({ quality: 'good', measuredAt: bench.clock.now() - 3000 })
  })

  it('is believed also when it fell back by years', () => {
    const bench = benchWith(gauge(JSON_TIMED))
    send(bench, 0, 5)
    expect(send(bench, 3 * 365 * 24 * HOUR, 20).at(-1)).not.toHaveProperty('late')
  })

  it('is not confused with one that empties a buffer, whose readings stay late', () => {
    const bench = benchWith(gauge(JSON_TIMED))
    send(bench, 0, 5)
    const start = bench.clock.now() - HOUR
    for (let i = 0; i < 3000; i++) {
      if (i % 10 === 0) bench.clock.step(10)
      expect(bench.send('t', at(2, start + i * 100))[0]).toMatchObject({ late: true })
    }
  })
})
