import { describe, expect, it } from 'vitest'
import type { CounterView } from '../../server/wire/replies.ts'
import {
  counterNotes,
  countText,
  eventWords,
  gapWords,
  indexReasons,
  indexText,
  sharedStart,
} from '../../web/format/counterWords.ts'

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

  it('say how long was missed, but not of the few seconds that are bridged anyway', () => {
    expect(gapWords({ gapSeconds: 0, uncertainSeconds: 5 })).toBe('')
    expect(gapWords({ gapSeconds: 7500, uncertainSeconds: 65 })).toBe(
      '2 h 05 min not counted, 1 min 05 s uncertain',
    )
  })

  it('name the meter, the highest peak and what to look at', () => {
    const peak = { value: (1770 * 2 * Math.PI) / 60, unit: 'rad/s', at: Date.parse('2026-03-29T12:00:00Z') }
    const counter = { ...COUNTER, source: 'meter' as const, peak, remarks: ['Look.'] }
    expect(counterNotes(counter, { zone: 'Europe/London', start: COUNTER.since })).toEqual([
      'by its own meter',
      '2 h 05 min not counted',
      'highest 1770 min⁻¹ on 29 Mar, 13:00:00',
      'Look.',
    ])
  })

  it('say when a counter began only where it did not begin with the others', () => {
    const others = [COUNTER, { ...COUNTER, since: COUNTER.since + 1000 }]
    const late = { ...COUNTER, since: COUNTER.since + 86_400_000, gapSeconds: 0 }
    const start = sharedStart([late, ...others])
    expect(Math.abs(start! - COUNTER.since)).toBeLessThanOrEqual(1000)
    expect(
      counterNotes({ ...late, unit: 'J', value: 2e6, u95: 1.24e4 }, { zone: 'Europe/London', start })[0],
    ).toBe('± 0.6 %')
    expect(counterNotes(late, { zone: 'Europe/London', start })).toEqual(['since 30 Mar 2026, 01:30:00 BST'])
  })

  it('tell what is missing of today where the counter is older', () => {
    const part = { to: COUNTER.since + 2e8, value: 1, uncertainSeconds: 0 }
    const today = { ...part, from: COUNTER.since + 1e8, gapSeconds: 600 }
    expect(counterNotes({ ...COUNTER, today }, { zone: 'UTC', start: COUNTER.since })).toEqual([
      '2 h 05 min not counted',
      'of that today 10 min not counted',
    ])
  })

  it('sum up the events of a folded group', () => {
    expect(eventWords([COUNTER, { ...COUNTER, id: 'forcedStops', value: 1 }])).toBe(
      '2 over-speed events, 1 forced stop',
    )
    expect(eventWords([])).toBe('')
  })

  it('give an index in its unit, or why there is none', () => {
    const units = { unit: '1', viewUnit: '%' }
    const value = { from: 0, to: 1, value: 0.4733, unknownSeconds: 0, quality: 'good' as const, reasons: [] }
    expect(indexText(units, value)).toBe('47.33')
    expect(indexText(units, { ...value, most: 0.52 })).toBe('47.33 … 52.00')
    const none = { ...value, value: null, reasons: ['no forced stop yet'] }
    expect(indexText(units, none)).toBe('–')
    expect(indexReasons({ thisMonth: none, since: none })).toBe('no forced stop yet')
  })
})
