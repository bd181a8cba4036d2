import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import { type FieldValue, type LinePoint, parseLines } from '../../../../server/ingest/formats/lineParser.ts'
import { benchWith, lastFault, plantWith } from '../ingestBench.ts'
import { NOON } from '../steppedClock.ts'

/** The only point of a line, with plain objects in place of maps. */
function read(line: string) {
  const { points, faults } = parseLines(line)
  if (faults.length > 0) return faults
  return points.map(({ measurement, tags, fields, time }) => [
    measurement,
    Object.fromEntries(tags),
    Object.fromEntries(fields),
    time,
  ])
}

describe('parseLines', () => {
  // Source: corpus of the published grammar and its documentation, as in test/reference/README.md, 13.1.
  it.each([
    [
      'cpu,host=serverA,region=us-west value=1.0e-4',
      ['cpu', { host: 'serverA', region: 'us-west' }, { value: 0.0001 }, undefined],
    ],
    [
      'myMeasurement,tag1=value1,tag2=value2 fieldKey="fieldValue" 1556813561098000000',
      [
        'myMeasurement',
        { tag1: 'value1', tag2: 'value2' },
        { fieldKey: 'fieldValue' },
        '1556813561098000000',
      ],
    ],
    ['m f=1i', ['m', {}, { f: 1 }, undefined]],
    ['m f=1u', ['m', {}, { f: 1 }, undefined]],
    ['m f=1', ['m', {}, { f: 1 }, undefined]],
    ['m f=1.', ['m', {}, { f: 1 }, undefined]],
    ['m f=.5', ['m', {}, { f: 0.5 }, undefined]],
    ['m f=1e5', ['m', {}, { f: 100_000 }, undefined]],
    ['m f=1.e3', ['m', {}, { f: 1000 }, undefined]],
    ['my\\ meas,a\\,b=c\\=d f="x\\"y"', ['my meas', { 'a,b': 'c=d' }, { f: 'x"y' }, undefined]],
    ['m a=t,b=T,c=true,d=True,e=TRUE', ['m', {}, { a: true, b: true, c: true, d: true, e: true }, undefined]],
    [
      'm a=f,b=F,c=false,d=False,e=FALSE',
      ['m', {}, { a: false, b: false, c: false, d: false, e: false }, undefined],
    ],
    ['m f=1 -5', ['m', {}, { f: 1 }, '-5']],
    ['m f="a b,c=d # e\\\\"', ['m', {}, { f: 'a b,c=d # e\\' }, undefined]],
    ['m f="two\nlines",g=2', ['m', {}, { f: 'two\nlines', g: 2 }, undefined]],
    ['m f=-9223372036854775808i', ['m', {}, { f: -(2 ** 63) }, undefined]],
  ])('reads %j', (line, point) => {
    expect(read(line)).toEqual([point])
  })

  // Source: the same; the place of the first by the corpus ("1:18" counts from 0 there).
  it.each([
    ['cpu,host=serverA,region value=1i', 'line 1, character 24 is " value=1i"', '"="'],
    ['m f=+1', 'line 1, character 5 is "+1"', 'a number, "true", "false" or a text in quotes'],
    ['m ', 'line 1, character 3 is the end', 'the key of a field'],
    ['m', 'line 1, character 2 is the end', 'a space before the fields'],
    [',a=b f=1', 'line 1, character 1 is ",a=b f=1"', 'a measurement'],
    ['m,a= f=1', 'line 1, character 5 is " f=1"', 'the value of a tag'],
    ['m =1', 'line 1, character 3 is "=1"', 'the key of a field'],
    ['m f=', 'line 1, character 5 is the end', 'a number, "true", "false" or a text in quotes'],
    ['m f=NaN', 'line 1, character 5 is "NaN"', 'a number, "true", "false" or a text in quotes'],
    ['m f=Inf', 'line 1, character 5 is "Inf"', 'a number, "true", "false" or a text in quotes'],
    ['m f=1e999', 'line 1, character 5 is "1e999"', 'a number, "true", "false" or a text in quotes'],
    ['m f=-1u', 'line 1, character 5 is "-1u"', 'a number, "true", "false" or a text in quotes'],
    [
      'm f=9223372036854775808i',
      'line 1, character 5 is "9223372036854775808i"',
      'a number, "true", "false" or a text in quotes',
    ],
    ['m f="open', 'line 1, character 5 is "\\"open"', 'a text with a closing quote'],
    ['m f=1 1.5', 'line 1, character 8 is ".5"', 'the end of the line'],
    ['m f=1 soon', 'line 1, character 7 is "soon"', 'a time in whole numbers'],
    ['m f=1 5 6', 'line 1, character 9 is "6"', 'the end of the line'],
    ['m\tf=1', 'line 1, character 2 is "\\tf=1"', 'a space before the fields'],
  ])('refuses %j and says where', (line, found, expected) => {
    expect(read(line)).toEqual([{ found, expected }])
  })

  it('passes over comments, empty lines and carriage returns', () => {
    const { points, faults } = parseLines('# head\r\n\r\n  m f=1\r\n\n#m f=2\nm f=3')
    expect(points.map((point) => point.fields.get('f'))).toEqual([1, 3])
    expect(faults).toEqual([])
  })

  it('reads the lines after a broken one, also after a forgotten quote', () => {
    const { points, faults } = parseLines('m f=1\nm f="oops\nm f=2\nbroken\nm f=3')
    expect(points.map((point) => point.fields.get('f'))).toEqual([1, 2, 3])
    expect(faults.map((fault) => fault.found)).toEqual([
      'line 2, character 5 is "\\"oops"',
      'line 4, character 7 is the end',
    ])
  })

  it('gives back what was written by the rules of the grammar', () => {
    const name = fc
      .string({ unit: fc.constantFrom('a', 'Z', '0', ',', '=', ' ', '"', '#', 'ü', '.'), minLength: 1 })
      .filter((text) => !text.startsWith('#') && !text.startsWith(' '))
    const text = fc.string({ unit: fc.constantFrom('a', '"', '\\', ' ', ',', '=', '\n', 'é') })
    const value: fc.Arbitrary<FieldValue> = fc.oneof(
      fc.double({ noNaN: true, noDefaultInfinity: true }).map((one) => Number(String(one))),
      fc.boolean(),
      text,
    )
    const point = fc.record({
      measurement: name,
      tags: fc.uniqueArray(fc.tuple(name, name), { selector: ([key]) => key, maxLength: 3 }),
      fields: fc.uniqueArray(fc.tuple(name, value), { selector: ([key]) => key, minLength: 1, maxLength: 3 }),
      time: fc.option(fc.maxSafeInteger().map(String), { nil: undefined }),
    })
    fc.assert(
      fc.property(fc.array(point, { maxLength: 4 }), (points) => {
        const read = parseLines(points.map(write).join('\n'))
        expect(read.faults).toEqual([])
        expect(
          read.points.map(({ tags, fields, time, ...rest }) => ({
            ...rest,
            tags: [...tags],
            fields: [...fields],
            time,
          })),
        ).toEqual(points)
      }),
    )
  })

  // Backtracking over 65 000 digits once took 4 s, in which no alarm could be raised. The limit is no speed to keep:
  // one pass over all this takes some ms, trying every split more than 10 s.
  it.each([
    ['no number', 'x'],
    ['a whole number', 'i'],
    ['a fraction', `.${'1'.repeat(32_000)}x`],
  ])(
    'gives up a run of digits that ends as %s in one pass',
    (_what, end) => {
      const line = `m f=${'1'.repeat(32_000)}${end}`
      const lines = Array.from({ length: 12 }, () => line).join('\n')
      expect(parseLines(lines).faults).toHaveLength(12)
    },
    5000,
  )

  it('never throws', () => {
    const rubbish = fc.string({
      unit: fc.constantFrom('m', ' ', ',', '=', '"', '\\', '\n', '1', 'i', '#', '\r'),
    })
    fc.assert(
      fc.property(rubbish, (text) => {
        const { points, faults } = parseLines(text)
        expect(points.length + faults.length).toBeLessThanOrEqual(text.split('\n').length)
      }),
    )
  })
})

interface Written {
  measurement: string
  tags: [string, string][]
  fields: [string, FieldValue][]
  time: LinePoint['time'] | undefined
}

/** Escapes as the grammar says (test/reference/README.md, 13.1). */
function write({ measurement, tags, fields, time }: Written): string {
  const name = (text: string) => text.replace(/[,= ]/g, '\\$&')
  const value = (one: FieldValue) =>
    typeof one === 'string' ? `"${one.replace(/["\\]/g, '\\$&')}"` : String(one).replace('e+', 'e')
  const head = [
    measurement.replace(/[, ]/g, '\\$&'),
    ...tags.map(([key, text]) => `${name(key)}=${name(text)}`),
  ]
  const body = fields.map(([key, one]) => `${name(key)}=${value(one)}`)
  return [head.join(','), body.join(','), ...(time === undefined ? [] : [time])].join(' ')
}

describe('the line protocol format', () => {
  const settings = 'format: lineProtocol, measurement: unit, field: p, tags: { site: a }, timeUnit: ms'
  const benchOf = (more = '') =>
    benchWith(plantWith(`id: gauge, topic: t, unit: bar, payload: { ${settings} }`, ...(more ? [more] : [])))

  it('takes its own points of several lines, each with its time', () => {
    const bench = benchOf()
    const lines = [
      `unit,site=a p=1,q=9 ${NOON - 3000}`,
      `unit,site=b p=5 ${NOON - 2500}`,
      `other,site=a p=6 ${NOON - 2500}`,
      `unit,site=a q=7 ${NOON - 2500}`,
      `unit,site=a,more=x p=2i ${NOON - 2000}`,
      'unit,site=a p=3',
    ]
    const readings = bench.send('t', lines.join('\n'))
    expect(readings.map((one) => [one.value, one.measuredAt])).toEqual([
      [1e5, NOON - 3000],
      [2e5, NOON - 2000],
      [3e5, NOON],
    ])
    expect(bench.ingest.counters().faults).toBe(0)
  })

  it('counts a broken line and keeps the others', () => {
    const bench = benchOf()
    expect(bench.send('t', 'unit,site=a p=1\nunit,site=a p=1,2\nunit,site=a p=3')).toHaveLength(2)
    expect(bench.ingest.counters().faults).toBe(1)
    expect(lastFault(bench)).toContain(
      'line 2, character 18 is the end, expected "=". The other 2 lines were kept.',
    )
  })

  it('makes a fault of a text where a number should be', () => {
    const bench = benchOf()
    expect(bench.send('t', 'unit,site=a p="12,4"')).toEqual([])
    expect(lastFault(bench)).toContain('field "p" is "12,4" (text), expected a number in bar')
  })

  it('makes a fault of a payload that has nothing for any instrument of the topic', () => {
    const bench = benchOf()
    bench.send('t', 'unit,site=b p=1')
    expect(lastFault(bench)).toContain(
      'payload has no point for any instrument of this topic, expected "unit,site=a p=…"',
    )
  })

  it('lets each line be for another instrument of the same topic', () => {
    const bench = benchOf(
      'id: flow, topic: t, unit: L/s, payload: { format: lineProtocol, measurement: unit, field: q }',
    )
    expect(bench.send('t', 'unit q=7')[0]).toMatchObject({ instrument: 'flow' })
    expect(bench.ingest.counters()).toMatchObject({ received: 1, readings: 1, faults: 0 })
  })
})
