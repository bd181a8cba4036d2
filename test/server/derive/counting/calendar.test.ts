import { describe, expect, it } from 'vitest'
import { createCalendar, isDate } from '../../../../server/derive/counting/calendar.ts'

const HOUR = 3_600_000

// In 2026 the United Kingdom changes its clocks on 29 March and 25 October at 01:00 UTC (IANA tz database, rule "EU").
describe('createCalendar', () => {
  const london = createCalendar('Europe/London')

  it.each([
    ['2026-03-28', '2026-03-28T00:00:00Z', 24],
    ['2026-03-29', '2026-03-29T00:00:00Z', 23],
    ['2026-03-30', '2026-03-29T23:00:00Z', 24],
    ['2026-10-25', '2026-10-24T23:00:00Z', 25],
    ['2026-10-26', '2026-10-26T00:00:00Z', 24],
  ])('lets %s begin at %s and last %i h', (date, start, hours) => {
    expect(london.day(date)).toMatchObject({
      start: Date.parse(start),
      end: Date.parse(start) + hours * HOUR,
    })
  })

  it('puts a moment of the repeated hour into the same day twice', () => {
    for (const moment of ['2026-10-25T00:30:00Z', '2026-10-25T01:30:00Z'])
      expect(london.dayOf(Date.parse(moment)).date).toBe('2026-10-25')
  })

  it('begins a day whose midnight is skipped with its first moment', () => {
    // IANA tz database: America/Santiago went from 00:00 to 01:00 on 6 September 2026 (rule "Chile", first Sunday on or after the 2nd)
    const day = createCalendar('America/Santiago').day('2026-09-06')
    expect((day.end - day.start) / HOUR).toBe(23)
    expect(day.start).toBe(Date.parse('2026-09-06T04:00:00Z'))
  })

  it('passes over a date that never was (Apia left out 30 December 2011)', () => {
    const apia = createCalendar('Pacific/Apia')
    expect(apia.dayOf(apia.day('2011-12-29').end).date).toBe('2011-12-31')
  })

  it('shifts dates over the ends of months and years', () => {
    expect(london.shift('2026-03-01', -1)).toBe('2026-02-28')
    expect(london.shift('2028-02-28', 1)).toBe('2028-02-29')
    expect(london.shift('2026-12-31', 1)).toBe('2027-01-01')
  })
})

describe('isDate', () => {
  it.each([
    ['2026-02-28', true],
    ['2026-02-29', false],
    ['2026-2-1', false],
    ['', false],
    ['2026-13-01', false],
  ])('says of "%s" %s', (text, expected) => {
    expect(isDate(text)).toBe(expected)
  })
})
