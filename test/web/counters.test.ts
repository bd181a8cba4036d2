import { describe, expect, it } from 'vitest'
import type { CounterView } from '../../server/wire/replies.ts'
import { counterNotes, countText, gapWords, indexText, sinceWords } from '../../web/format/counters.ts'

const COUNTER: CounterView = {
  id: 'overSpeedEvents',
  name: 'Over-speed events',
  group: 'protection',
  unit: '1',
  value: 2,
  source: 'counted',
  since: Date.parse('2026-03-29T00:30:00Z'),
  at: null,
  gapSeconds: 7500,
  uncertainSeconds: 0,
  quality: 'uncertain',
  today: null,
  yesterday: null,
  thisMonth: null,
  remarks: [],
}

describe('the words of a counter', () => {
  it('read energy in kWh, charge in Ah, time in hours and events as they are', () => {
    // by definition 1 kWh = 3.6 MJ, 1 Ah = 3600 C
    expect(countText({ unit: 'J' }, { value: 3.6e8 })).toBe('100.0')
    expect(countText({ unit: 'C' }, { value: 3600 })).toBe('1')
    expect(countText({ unit: 's' }, { value: 1800 })).toBe('0.500')
    expect(countText({ unit: '1' }, { value: 27 })).toBe('27')
  })

  it('show that nothing was counted yet, rather than zero', () => {
    expect(countText({ unit: 'J' }, null)).toBe('–')
  })

  it('say how long was missed', () => {
    expect(gapWords({ gapSeconds: 0, uncertainSeconds: 0 })).toBe('')
    expect(gapWords({ gapSeconds: 0.4, uncertainSeconds: 65 })).toBe('1 min 05 s uncertain')
    expect(sinceWords(COUNTER, 'Europe/London')).toBe(
      'since 29 Mar 2026, 00:30:00 GMT; 2 h 05 min not counted',
    )
  })

  it('name the meter, the highest peak and what to look at', () => {
    const peak = { value: (1770 * 2 * Math.PI) / 60, unit: 'rad/s', at: Date.parse('2026-03-29T12:00:00Z') }
    expect(counterNotes({ ...COUNTER, source: 'meter', peak, remarks: ['Look.'] }, 'Europe/London')).toEqual([
      'by its own meter',
      'highest 1770 min⁻¹ on 29 Mar, 13:00:00',
      'Look.',
    ])
  })

  it('give an index in its unit, or why there is none', () => {
    const units = { unit: '1', viewUnit: '%' }
    const value = { from: 0, to: 1, value: 0.4733, unknownSeconds: 0, quality: 'good' as const, reasons: [] }
    expect(indexText(units, value)).toEqual({ text: '47.33', reason: '' })
    expect(indexText(units, { ...value, value: null, reasons: ['no forced stop yet'] })).toEqual({
      text: '–',
      reason: 'no forced stop yet',
    })
  })
})
