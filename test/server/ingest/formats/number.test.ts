import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import { benchWith, lastFault, plantWith } from '../ingestBench.ts'

const bench = () => benchWith(plantWith('id: level, topic: mill/level, unit: m'))

describe('the word of a contact', () => {
  const contact = (role: string) => benchWith(plantWith(`id: contact, role: ${role}, topic: t, unit: "1"`))
  const quoted = ['"ON"', '"12.1"']

  it.each([
    ['gridConnected', 'ON', 1],
    ['gridConnected', 'off', 0],
    ['gridConnected', 'true', 1],
    ['gridConnected', 'False', 0],
    ['gridConnected', '1', 1],
    ['gridConnected', quoted[0]!, 1],
    ['breakerClosed', 'closed', 1],
    ['breakerClosed', 'Open', 0],
    ['inletValve', 'open', 1],
    ['doorOpen', 'CLOSED', 0],
  ])('%s: %s is %d', (role, payload, value) => {
    expect(contact(role).send('t', payload)[0]).toMatchObject({ value, quality: 'good' })
  })

  it.each([
    ['gridConnected', 'open', 'payload is "open", expected 1 or 0, on or off, true or false'],
    ['breakerClosed', 'shut', 'payload is "shut", expected 1 or 0, on or off, true or false, open or closed'],
    ['speed', 'on', 'payload is "on", expected a number in'],
  ])('%s: %s is a fault that says what it may send', (role, payload, sentence) => {
    const one =
      role === 'speed' ? benchWith(plantWith('id: s, role: speed, topic: t, unit: rpm')) : contact(role)
    expect(one.send('t', payload)).toEqual([])
    expect(lastFault(one)).toContain(sentence)
  })

  it('is taken where no role says what a plain number is, and a number in quotes anywhere', () => {
    const own = benchWith(plantWith('id: lamp, topic: t, unit: "1"'))
    expect(own.send('t', 'on')[0]?.value).toBe(1)
    expect(bench().send('mill/level', quoted[1]!)[0]?.value).toBe(12.1)
  })
})

describe('the number format', () => {
  it.each([
    ['12.4', 12.4],
    ['-0.5', -0.5],
    ['+3', 3],
    ['.5', 0.5],
    ['1.', 1],
    ['1e-3', 0.001],
    [' 7\r\n', 7],
  ])('reads %j', (payload, value) => {
    expect(bench().send('mill/level', payload)[0]?.value).toBe(value)
  })

  it.each([
    '',
    ' ',
    'abc',
    '12,4',
    '1 2',
    '0x10',
    'NaN',
    'nan',
    'Infinity',
    '-inf',
    '1e999',
    'true',
    '1.2.3',
    '12.4 m',
    '1'.repeat(65),
    '\u0000\u0001',
  ])('makes a fault of %j, never a reading', (payload) => {
    const one = bench()
    expect(one.send('mill/level', payload)).toEqual([])
    expect(one.ingest.counters()).toMatchObject({ received: 1, readings: 0, faults: 1 })
  })

  it('says where, what came, what was expected and what was kept', () => {
    const one = bench()
    one.send('mill/level', '12,4')
    expect(lastFault(one)).toBe(
      'ingest: topic "mill/level" at 12:00:00Z: payload is "12,4", expected a plain finite number with a decimal ' +
        'point, e.g. 12.4. Nothing was taken from it; "level" keeps its last value, which ages. ' +
        'Faults of this instrument since start: 1.',
    )
  })

  it('gives back every number that is written as decimal text', () => {
    const one = bench()
    fc.assert(
      fc.property(fc.double({ noNaN: true, noDefaultInfinity: true }), (value) => {
        const text = String(value)
        // ECMAScript writes −0 as "0"
        expect(one.send('mill/level', text)[0]?.value).toBe(Number(text))
      }),
    )
  })
})
