import { describe, expect, it } from 'vitest'
import { compilePointer } from '../../../../server/ingest/formats/jsonPointer.ts'
import { timeOf } from '../../../../server/ingest/formats/timeStamp.ts'
import { benchWith, lastFault, plantWith } from '../ingestBench.ts'
import { NOON } from '../steppedClock.ts'

const benchOf = (settings: string) =>
  benchWith(plantWith(`id: gauge, topic: t, unit: bar, payload: { format: json, ${settings} }`))

describe('compilePointer', () => {
  // Source: RFC 6901 § 5, the document and its table.
  const document = {
    foo: ['bar', 'baz'],
    '': 0,
    'a/b': 1,
    'c%d': 2,
    'e^f': 3,
    'g|h': 4,
    'i\\j': 5,
    'k"l': 6,
    ' ': 7,
    'm~n': 8,
  }
  it.each([
    ['', document],
    ['/foo', ['bar', 'baz']],
    ['/foo/0', 'bar'],
    ['/', 0],
    ['/a~1b', 1],
    ['/c%d', 2],
    ['/e^f', 3],
    ['/g|h', 4],
    ['/i\\j', 5],
    ['/k"l', 6],
    ['/ ', 7],
    ['/m~0n', 8],
  ])('finds %j as RFC 6901 § 5 says', (text, value) => {
    const pointer = compilePointer(text)
    expect(typeof pointer === 'function' && pointer(document)).toEqual(value)
  })

  it.each(['/foo/2', '/foo/00', '/foo/-', '/foo/length', '/toString', '/foo/0/0', '/bar'])(
    'finds nothing at %j',
    (text) => {
      const pointer = compilePointer(text)
      expect(typeof pointer === 'function' ? pointer(document) : 'not a pointer').toBeUndefined()
    },
  )

  it('reads "~01" as "~1", not as "/" (RFC 6901 § 4)', () => {
    const pointer = compilePointer('/~01')
    expect(typeof pointer === 'function' && pointer({ '~1': 'right', '/': 'wrong' })).toBe('right')
  })

  it.each(['foo', '/a~', '/a~2'])('refuses %j', (text) => {
    expect(compilePointer(text)).toEqual({ expected: expect.stringContaining('RFC 6901') })
  })
})

describe('the json format', () => {
  it('takes a number that is written as a text, as many loggers do', () => {
    const bench = benchOf('value: /flow, peak: /max')
    expect(bench.send('t', '{"flow":"301.5","max":"302"}')[0]).toMatchObject({ value: 301.5e5, peak: 302e5 })
    expect(bench.send('t', '{"flow":["1","2.5"]}')[0]?.value).toBe(2.5e5)
  })

  it('takes numbers and switches', () => {
    const bench = benchWith(plantWith('id: open, topic: t, unit: "1", payload: { format: json, value: /v }'))
    expect(bench.send('t', '{"v":0.25}')[0]?.value).toBe(0.25)
    expect(bench.send('t', '{"v":true}')[0]?.value).toBe(1)
    expect(bench.send('t', '{"v":false}')[0]?.value).toBe(0)
  })

  it.each([
    ['{"v":"12,4"}', 'field "/v" is "12,4" (text), expected a number in bar'],
    ['{"v":"12.4 bar"}', 'field "/v" is "12.4 bar" (text)'],
    ['{"v":"0x10"}', 'field "/v" is "0x10" (text)'],
    ['{"v":"on"}', 'field "/v" is "on" (text), expected a number in bar'],
    ['{"v":true}', 'field "/v" is true, expected a number in bar'],
    ['{"w":1}', 'field "/v" is missing'],
    ['{"v":null}', 'field "/v" is null'],
    ['{"v":{"a":1}}', 'field "/v" is an object'],
    ['{"v":["x"]}', '1 of 1 values, such as "x"'],
    ['{"v":1e999}', 'field "/v" is Infinity'],
    ['[]', 'field "/v" is missing'],
    ['3', 'field "/v" is missing'],
    ['{"v":NaN}', 'payload is "{"v":NaN}", expected one JSON document'],
    ['{"v":1', 'payload is "{"v":1", expected one JSON document'],
    ['', 'payload is "", expected one JSON document'],
    ['{"__proto__":{"v":1}}', 'without "__proto__" and "constructor" keys'],
    ['{"v":1,"a":{"\\u005f_proto__":{"x":1}}}', 'without "__proto__" and "constructor" keys'],
    ['{"v":1,"constructor":{"prototype":{"x":1}}}', 'without "__proto__" and "constructor" keys'],
    [`{"v":1,"a":${'['.repeat(40)}${']'.repeat(40)}}`, 'JSON nested deeper than 32 levels'],
    ['['.repeat(60_000), 'JSON nested deeper than 32 levels'],
  ])('makes a fault of %.60j', (payload, sentence) => {
    const bench = benchOf('value: /v')
    expect(bench.send('t', payload)).toEqual([])
    expect(bench.ingest.counters().faults).toBe(1)
    expect(lastFault(bench)).toContain(sentence)
    expect(({} as Record<string, unknown>)['x']).toBeUndefined()
  })

  it('counts brackets in texts as text', () => {
    const bench = benchOf('value: /v')
    expect(bench.send('t', `{"note":"\\"${'['.repeat(100)}","v":1}`)).toHaveLength(1)
  })

  it('takes time and peak from their own places', () => {
    const bench = benchOf('value: /p/now, peak: /p/max, time: /at, timeUnit: s')
    const [reading] = bench.send('t', `{"p":{"now":2,"max":3.5},"at":${NOON / 1000 - 2}}`)
    expect(reading).toMatchObject({ value: 2e5, peak: 3.5e5, measuredAt: NOON - 2000, quality: 'good' })
  })

  it('uses a value whose time or peak is missing, as uncertain and with the time of arrival', () => {
    const bench = benchOf('value: /v, time: /at')
    expect(bench.send('t', '{"v":1}')[0]).toMatchObject({
      measuredAt: NOON,
      quality: 'uncertain',
      reasons: ['no time of measurement: "/at" is missing'],
    })
    expect(bench.send('t', '{"v":1,"at":"now"}')[0]).toMatchObject({
      reasons: ['no time of measurement: "/at" is "now" (text)'],
    })
    expect(benchOf('value: /v, peak: /max').send('t', '{"v":1,"max":"nine"}')[0]).toMatchObject({
      reasons: ['no peak: "/max" is "nine" (text)'],
    })
  })

  it('takes a value only in the unit of the plant file', () => {
    const bench = benchOf('value: /v, unit: /u')
    expect(bench.send('t', '{"v":1,"u":"bar"}')).toHaveLength(1)
    expect(bench.send('t', '{"v":1,"u":"psi"}')).toEqual([])
    expect(lastFault(bench)).toContain(
      'unit "/u" is "psi" (text), expected "bar", the unit in the plant file',
    )
    expect(bench.send('t', '{"v":1}')).toEqual([])
    expect(lastFault(bench)).toContain('unit "/u" is missing')
  })

  it('is given a pointer that is one, since the plant file is refused otherwise', () => {
    expect(() => benchOf('value: pressure')).toThrow(/found "pressure", expected a JSON pointer/)
  })
})

describe('timeOf', () => {
  // Source: `date -u -d 2026-08-01T12:00:00Z +%s` gives 1785585600.
  const at = 1_785_585_600_000
  it.each([
    [1_785_585_600, 's'],
    [1_785_585_600_000, 'ms'],
    [1_785_585_600_000_000, 'us'],
    [1_785_585_600_000_000_000, 'ns'],
    ['2026-08-01T12:00:00Z', 'iso'],
    ['2026-08-01T13:00:00+01:00', 'iso'],
    ['2026-08-01 07:00:00-0500', 'iso'],
    ['2026-08-01T12:00Z', 'iso'],
    ['2026-08-01T12:00:00,000Z', 'iso'],
  ] as const)('reads %j in %s', (stamp, unit) => {
    expect(timeOf(stamp, unit)).toBe(at)
  })

  it.each([
    ['2026-08-01T12:00:00', 'iso'],
    ['2026-13-01T12:00:00Z', 'iso'],
    ['1785585600', 's'],
    [1_785_585_600, 'iso'],
    [null, 'ms'],
    [Number.POSITIVE_INFINITY, 'ms'],
  ] as const)('finds no time in %j as %s', (stamp, unit) => {
    expect(timeOf(stamp, unit)).toBeUndefined()
  })
})
