import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import { benchWith, lastFault, plantWith } from '../ingestBench.ts'

const bench = () => benchWith(plantWith('id: level, topic: mill/level, unit: m'))

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
