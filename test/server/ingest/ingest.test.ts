import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import { benchWith, lastFault, plantWith } from './ingestBench.ts'
import { NOON } from './steppedClock.ts'

const LEVEL = 'id: level, topic: mill/level, unit: m'
const json = (id: string, pointer: string) =>
  `id: ${id}, topic: mill/all, unit: bar, payload: { format: json, value: ${pointer} }`

describe('createIngest', () => {
  it('asks for exactly the topics of the plants, or for everything where it lists what is unknown', () => {
    const plant = plantWith(LEVEL, json('a', '/a'), json('b', '/b'))
    expect(benchWith(plant).filters).toEqual(['mill/level', 'mill/all'])
    expect(benchWith(plant, true).filters).toEqual(['#'])
  })

  it('gives a reading in SI with its instrument, its quantity and both times', () => {
    const plant = plantWith('id: gauge, role: inletPressure, topic: t, unit: bar')
    expect(benchWith(plant).send('t', '2.5')).toEqual([
      {
        plant: 'mill',
        instrument: 'gauge',
        quantity: 'inletPressure',
        value: 250_000,
        measuredAt: NOON,
        receivedAt: NOON,
        quality: 'good',
        reasons: [],
      },
    ])
  })

  it('gives every instrument of a shared topic its value; one missing value costs only that one', () => {
    const bench = benchWith(plantWith(json('a', '/a'), json('b', '/b'), json('c', '/c')))
    const readings = bench.send('mill/all', '{"a":1,"c":3}')
    expect(readings.map((one) => [one.instrument, one.value])).toEqual([
      ['a', 1e5],
      ['c', 3e5],
    ])
    expect(bench.ingest.counters()).toMatchObject({ received: 1, readings: 2, faults: 1 })
    expect(bench.ingest.topics().map((one) => [one.instrument, one.received, one.faults])).toEqual([
      ['a', 1, 0],
      ['b', 1, 1],
      ['c', 1, 0],
    ])
  })

  it('lets instruments of one topic read it in different formats', () => {
    const bench = benchWith(
      plantWith(LEVEL, 'id: text, topic: mill/level, unit: m, payload: { format: json }'),
    )
    expect(bench.send('mill/level', '1.5').map((one) => one.instrument)).toEqual(['level', 'text'])
  })

  it('refuses payloads above 64 kB without decoding them', () => {
    const bench = benchWith(plantWith(LEVEL))
    expect(bench.send('mill/level', Buffer.alloc(10 * 1_048_576, 49))).toEqual([])
    expect(lastFault(bench)).toContain('payload of 10485760 bytes, expected at most 65536 bytes')
    expect(bench.ingest.topics()[0]!.lastFault!.example.length).toBeLessThanOrEqual(201)
  })

  it('makes a fault of a value that overflows in scaling', () => {
    const bench = benchWith(plantWith('id: power, topic: t, unit: MW'))
    expect(bench.send('t', '1e308')).toEqual([])
    expect(lastFault(bench)).toContain('the value is 1e+308')
  })

  it('keeps of a bad payload an example of at most 200 printable characters', () => {
    const bench = benchWith(plantWith(LEVEL))
    bench.send('mill/level', Buffer.from([0, 7, 27, 255, 0xe2, 0x80, 0xae, 65]))
    expect(bench.ingest.topics()[0]!.lastFault!.example).toBe('·····A')
    bench.send('mill/level', 'ä'.repeat(500))
    expect(bench.ingest.topics()[0]!.lastFault!.example).toBe(`${'ä'.repeat(200)}…`)
  })

  it('lists topics that no plant knows, up to 200, and counts the rest', () => {
    const bench = benchWith(plantWith(LEVEL), true)
    for (let i = 0; i < 1000; i++) bench.send(`other/${i}`, `payload ${i}`)
    bench.send('other/0', 'again')
    const unmapped = bench.ingest.unmapped()
    expect(unmapped).toHaveLength(200)
    expect(unmapped[0]).toMatchObject({ topic: 'other/0', received: 2, example: 'payload 0' })
    expect(bench.ingest.unmappedDropped()).toBe(800)
    expect(bench.ingest.counters()).toMatchObject({ received: 0, faults: 0 })
  })

  it('does not list its own output', () => {
    const bench = benchWith(plantWith(LEVEL), true)
    bench.send('headrace/mill/figures', '{}')
    expect(bench.ingest.unmapped()).toEqual([])
  })

  it('takes over changed plants while the counters of unchanged topics go on', () => {
    const bench = benchWith(plantWith(LEVEL, 'id: old, topic: mill/old, unit: m'))
    bench.send('mill/level', '1')
    bench.send('mill/level', 'x')
    bench.ingest.replacePlants([plantWith(LEVEL, 'id: new, topic: mill/new, unit: m')])
    expect(bench.filters).toContain('mill/new')
    expect(bench.send('mill/new', '2')).toHaveLength(1)
    expect(bench.send('mill/old', '2')).toEqual([])
    expect(bench.ingest.topics()).toMatchObject([
      { topic: 'mill/level', received: 2, faults: 1, lastFault: { example: 'x' } },
      { topic: 'mill/new', received: 1, faults: 0 },
    ])
  })

  it('tells of each topic when something last came', () => {
    const bench = benchWith(plantWith(LEVEL))
    expect(bench.ingest.topics()[0]!.lastReceivedAt).toBeNull()
    bench.clock.step(1500)
    bench.send('mill/level', 'x')
    expect(bench.ingest.topics()[0]!.lastReceivedAt).toBe(NOON + 1500)
  })

  it.each([
    ['number', LEVEL],
    [
      'json',
      'id: level, topic: mill/level, unit: m, payload: { format: json, value: /v, time: /t, peak: /p }',
    ],
    [
      'line protocol',
      'id: level, topic: mill/level, unit: m, payload: { format: lineProtocol, measurement: m, field: f }',
    ],
  ])(
    'makes of any bytes in the %s format readings of finite numbers or a counted fault',
    (_name, instrument) => {
      const bench = benchWith(plantWith(`${instrument}, range: [0, 1]`))
      const piece = fc.oneof(
        fc.uint8Array({ maxLength: 40 }),
        fc
          .constantFrom(
            '1',
            '-2.5e3',
            '{"v":',
            '"t":',
            '"p":',
            '}',
            '[',
            ',',
            'm f=',
            '\n',
            ' 99',
            '"',
            'true',
            '1e400',
          )
          .map((text) => Buffer.from(text)),
      )
      fc.assert(
        fc.property(fc.array(piece, { maxLength: 8 }), fc.boolean(), (pieces, retained) => {
          const before = bench.ingest.counters()
          const readings = bench.send('mill/level', Buffer.concat(pieces), { retained })
          const after = bench.ingest.counters()
          const outcomes = (counters: typeof after) =>
            counters.readings + counters.faults + counters.duplicates
          expect(outcomes(after)).toBeGreaterThan(outcomes(before))
          for (const reading of readings) {
            expect(Number.isFinite(reading.value)).toBe(true)
            expect(reading.measuredAt).toBeLessThanOrEqual(NOON + 5000)
            expect(reading.quality === 'good').toBe(reading.reasons.length === 0)
          }
        }),
        { numRuns: 500 },
      )
    },
  )
})
