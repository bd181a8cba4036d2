import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import {
  lastWeekly,
  localMoment,
  nextLocalTime,
  nextWeekly,
  quietUntil,
} from '../../../../server/alarms/notify/localTime.ts'

const iso = (time: number) => new Date(time).toISOString()
const LONDON = 'Europe/London'
const MONDAY_NINE = { weekday: 1 as const, time: { hour: 9, minute: 0 } }

// Clock changes of the United Kingdom in 2026: 29 March 01:00 UTC and 25 October 01:00 UTC (tz database, Europe/London)
describe('the weekly time', () => {
  it('is 9 o’clock on the wall before and after the clocks change', () => {
    expect(iso(nextWeekly(Date.parse('2026-03-24T12:00Z'), LONDON, MONDAY_NINE))).toBe(
      '2026-03-30T08:00:00.000Z',
    )
    expect(iso(nextWeekly(Date.parse('2026-10-20T12:00Z'), LONDON, MONDAY_NINE))).toBe(
      '2026-10-26T09:00:00.000Z',
    )
  })

  it('counts as reached on the very instant', () => {
    const instant = Date.parse('2026-03-30T08:00Z')
    expect(lastWeekly(instant, LONDON, MONDAY_NINE)).toBe(instant)
    expect(iso(lastWeekly(instant - 1, LONDON, MONDAY_NINE))).toBe('2026-03-23T09:00:00.000Z')
  })

  it('comes at the moment after a gap for a time that the spring skips', () => {
    const sunday = { weekday: 7 as const, time: { hour: 1, minute: 30 } }
    expect(iso(nextWeekly(Date.parse('2026-03-25T00:00Z'), LONDON, sunday))).toBe('2026-03-29T01:30:00.000Z')
  })

  it('lies at most eight days apart and never in the past (property)', () => {
    const instants = fc.integer({ min: Date.parse('2025-01-01'), max: Date.parse('2028-01-01') })
    fc.assert(
      fc.property(
        instants,
        fc.constantFrom(LONDON, 'Pacific/Apia', 'Australia/Lord_Howe', 'UTC'),
        (now, zone) => {
          const last = lastWeekly(now, zone, MONDAY_NINE)
          const next = nextWeekly(now, zone, MONDAY_NINE)
          expect(last).toBeLessThanOrEqual(now)
          expect(next).toBeGreaterThan(now)
          expect(next - last).toBeLessThanOrEqual(8 * 86_400_000)
        },
      ),
    )
  })
})

describe('quiet hours', () => {
  const night = { from: { hour: 22, minute: 0 }, to: { hour: 7, minute: 0 } }

  it.each([
    ['2026-11-25T21:59Z', undefined],
    ['2026-11-25T22:00Z', '2026-11-26T07:00:00.000Z'],
    ['2026-11-26T06:59Z', '2026-11-26T07:00:00.000Z'],
    ['2026-11-26T07:00Z', undefined],
    // the night in which the clocks go back: 7 o'clock is an hour later in UTC
    ['2026-10-24T22:30Z', '2026-10-25T07:00:00.000Z'],
  ])('at %s last until %s', (now, end) => {
    const until = quietUntil(Date.parse(now), LONDON, night)
    expect(until === undefined ? undefined : iso(until)).toBe(end)
  })

  it('do not exist where they begin when they end', () => {
    const none = { from: { hour: 7, minute: 0 }, to: { hour: 7, minute: 0 } }
    expect(quietUntil(Date.parse('2026-11-25T07:00Z'), LONDON, none)).toBeUndefined()
  })
})

describe('local times for people', () => {
  it('name the day and the time zone', () => {
    expect(localMoment(Date.parse('2026-07-01T13:03:22Z'), LONDON)).toBe(
      'Wednesday 1 July 2026, 14:03:22 BST',
    )
  })

  it('come next after now, also today', () => {
    const seven = { hour: 7, minute: 0 }
    expect(iso(nextLocalTime(Date.parse('2026-11-25T06:00Z'), LONDON, seven))).toBe(
      '2026-11-25T07:00:00.000Z',
    )
    expect(iso(nextLocalTime(Date.parse('2026-11-25T07:00Z'), LONDON, seven))).toBe(
      '2026-11-26T07:00:00.000Z',
    )
  })
})
