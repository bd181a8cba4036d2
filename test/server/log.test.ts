import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import { createLog, type LogFormat } from '../../server/log.ts'
import { createSteppedClock } from './ingest/steppedClock.ts'

function bench(format: LogFormat) {
  const clock = createSteppedClock()
  let text = ''
  const write = (line: string) => {
    text += line
  }
  const log = createLog({ name: 'watch', format, clock, sink: { write } })
  return { ...log, clock, text: () => text, lines: () => text.split('\n').slice(0, -1) }
}

/** What a terminal takes for a command or the end of a line, and what turns the direction of writing (Unicode: Cc, Zl, Zp, Bidi_Control). */
const STEERING = /[\p{Cc}\p{Zl}\p{Zp}\p{Bidi_Control}]/u
const FORGED = '\n2026-01-01T00:00:00.000Z info  Set-up code FAKE\u001b[2J\r\u009b31m\u2028\u202ex'
const anyText = fc.oneof(
  fc.string({ unit: 'binary', maxLength: 200 }),
  fc
    .array(fc.constantFrom(FORGED, '\n', '\r', '\u001b[31m', '%s %d %o', '\ud800', '"', '\\', 'a'), {
      maxLength: 20,
    })
    .map((all) => all.join('')),
)

describe('the log', () => {
  it('writes one line of JSON for an entry, with time, level and process, and nothing in it steers a terminal', () => {
    fc.assert(
      fc.property(anyText, (text) => {
        const { tell, lines } = bench('json')
        tell(text, 'warn')
        expect(lines().length).toBe(1)
        expect(lines()[0]).not.toMatch(STEERING)
        const entry = JSON.parse(lines()[0]!)
        expect(entry).toMatchObject({ level: 'warn', process: 'watch', pid: process.pid })
        expect(new Date(entry.time).toISOString()).toBe(entry.time)
      }),
    )
  })

  it('writes one line of text for an entry, in which no other can be forged', () => {
    fc.assert(
      fc.property(anyText, (text) => {
        const { tell, lines } = bench('text')
        tell(text, 'error')
        expect(lines().length).toBe(1)
        expect(lines()[0]).toMatch(/^\d{4}-\d\d-\d\dT\d\d:\d\d:\d\d\.\d{3}Z error /)
        expect(lines()[0]).not.toMatch(STEERING)
      }),
    )
  })

  it('leaves plain text as it is, per cent signs and all', () => {
    const { tell, lines } = bench('text')
    tell('Rückstau in Þórsmörk: 100 %, %s, „μ“ 水')
    expect(lines()[0]).toMatch(/ info {2}Rückstau in Þórsmörk: 100 %, %s, „μ“ 水$/)
  })

  it('writes where something thrown came from on lines that begin with nothing else', () => {
    fc.assert(
      fc.property(anyText, (message) => {
        const { tell, lines } = bench('text')
        tell('http: a request could not be answered', 'error', new TypeError(message))
        expect(lines()[0]).toMatch(/ error http: a request could not be answered: TypeError: /)
        expect(lines().length).toBeGreaterThan(1)
        for (const line of lines().slice(1)) expect(line).toMatch(/^ {4}at /)
        for (const line of lines()) expect(line).not.toMatch(STEERING)
      }),
    )
  })

  it('takes anything that can be thrown', () => {
    for (const thrown of [null, 1, 'x\n', Object.create(null), { a: 1 }, Symbol('s')]) {
      const { tell, lines } = bench('json')
      tell('thrown', 'error', thrown)
      expect(JSON.parse(lines()[0]!).error.message).toBeTypeOf('string')
    }
  })

  it('never shows a secret that it was told of, nor one in an address or a header', () => {
    fc.assert(
      fc.property(fc.uuid(), anyText, anyText, (secret, before, after) => {
        const { tell, hide, text } = bench('json')
        hide(secret)
        tell(before + secret + after, 'warn', new Error(`${after}${secret}`))
        expect(text()).not.toContain(secret)
      }),
    )
    const { tell, text } = bench('text')
    tell('lost mqtts://anna:pa:ss@broker.example:8883/x, Authorization: Bearer abc.def-123==, Basic dXNlcg==')
    expect(text()).toMatch(/lost mqtts:\/\/…broker\.example:8883\/x, Authorization: Bearer …, Basic …\n$/)
  })

  it('cuts what is very long', () => {
    const { tell, text } = bench('json')
    tell('\n'.repeat(1_000_000))
    expect(text().length).toBeLessThan(20_000)
  })

  it('writes an entry that comes again and again once, and then how often it came', () => {
    const { tell, clock, lines } = bench('text')
    for (let i = 0; i < 1000; i++) tell('broker: lost', 'warn')
    tell('broker: lost', 'error')
    expect(lines().length).toBe(2)
    clock.step(10_000)
    expect(lines().length).toBe(3)
    expect(lines()[2]).toContain('warn  broker: lost (999 more of this kind within 10 s)')
    clock.step(100_000)
    tell('broker: lost', 'warn')
    expect(lines().length).toBe(4)
  })

  it('writes a limited number of different entries, and how many were left out', () => {
    const { tell, clock, lines } = bench('text')
    for (let i = 0; i < 5000; i++) tell(`line ${i}`)
    expect(lines().length).toBe(201)
    clock.step(10_000)
    expect(lines().at(-1)).toMatch(/left out \(4799 more of this kind within 10 s\)$/)
    clock.step(10_000)
    tell('line 0')
    expect(lines().at(-1)).toMatch(/line 0$/)
  })
})
