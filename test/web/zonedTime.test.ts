import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import { fieldText, readField } from '../../web/format/zonedTime.ts'

// Clock changes of 2026 in Great Britain and New Zealand: IANA time zone database (from memory).
describe('readField', () => {
  it.each([
    ['2026-11-25T14:07:31', 'Europe/London', '2026-11-25T14:07:31Z'],
    ['2026-07-01T12:00', 'Europe/London', '2026-07-01T11:00:00Z'],
    ['2026-07-01T12:00', 'Pacific/Auckland', '2026-07-01T00:00:00Z'],
    ['2026-01-01T00:30', 'Asia/Kathmandu', '2025-12-31T18:45:00Z'],
  ])('takes %s in %s for %s', (text, zone, moment) => {
    expect(readField(text, zone)).toBe(Date.parse(moment))
  })

  it('takes the first of an hour that comes twice', () => {
    expect(readField('2026-10-25T01:30', 'Europe/London')).toBe(Date.parse('2026-10-25T00:30:00Z'))
  })

  it('takes it so in a zone that lies more than half a day from UTC as well', () => {
    // daylight saving ends in New Zealand on the first Sunday of April at 3 h (time zone database)
    expect(readField('2026-04-05T02:30', 'Pacific/Auckland')).toBe(Date.parse('2026-04-04T13:30:00Z'))
  })

  it('counts on from the moment before an hour that is left out', () => {
    expect(readField('2026-03-29T01:30', 'Europe/London')).toBe(Date.parse('2026-03-29T01:30:00Z'))
  })

  it('is null for what is no date', () => {
    expect(readField('', 'Europe/London')).toBeNull()
    expect(readField('yesterday', 'Europe/London')).toBeNull()
  })

  it('reads back what was written, but for the second of an hour that comes twice', () => {
    const zones = ['Europe/London', 'Pacific/Auckland', 'America/St_Johns', 'UTC']
    fc.assert(
      fc.property(
        fc.integer({ min: 1_700_000_000, max: 1_900_000_000 }),
        fc.constantFrom(...zones),
        (seconds, zone) => {
          const at = seconds * 1000
          const read = readField(fieldText(at, zone), zone)!
          expect([0, -3_600_000]).toContain(read - at)
        },
      ),
    )
  })
})
