import { describe, expect, it } from 'vitest'
import { ageWords, agoWords, durationWords, roughDuration } from '../../web/format/age.ts'
import { clockTime, dateTime, zoneName } from '../../web/format/time.ts'
import { pageTitle } from '../../web/format/words.ts'
import { MORNING } from './support.ts'

describe('durationWords', () => {
  it.each([
    [0, '0 s'],
    [14_900, '14 s'],
    [125_000, '2 min 05 s'],
    [1_500_000, '25 min'],
    [7_500_000, '2 h 05 min'],
    [3 * 86_400_000 + 4 * 3_600_000, '3 d 04 h'],
  ])('writes %d ms as %s', (ms, words) => {
    expect(durationWords(ms)).toBe(words)
  })
})

describe('roughDuration', () => {
  it.each([
    [0, '0 s'],
    [59_900, '59 s'],
    [280_000, '4 min'],
    [7_500_000, '2 h'],
    [3 * 86_400_000 + 4 * 3_600_000, '3 d'],
  ])('writes %d ms as %s', (ms, words) => {
    expect(roughDuration(ms)).toBe(words)
  })
})

describe('pageTitle', () => {
  it('counts the alarms that wait, where the tab shows it first', () => {
    expect(pageTitle('Mill', 2)).toBe('(2) Mill · Headrace')
  })

  it('counts nothing while no alarm waits', () => {
    expect(pageTitle('Mill')).toBe('Mill · Headrace')
  })
})

describe('ageWords', () => {
  it('says never for a figure that was never measured', () => {
    expect([ageWords(null, MORNING), agoWords(null, MORNING)]).toEqual(['never', 'never received'])
  })

  it('calls out a measurement stamped in the future', () => {
    expect(agoWords(MORNING + 7000, MORNING)).toBe('stamped 7 s ahead')
  })

  it('passes over a lead too small to matter', () => {
    expect(ageWords(MORNING + 800, MORNING)).toBe('0 s')
  })
})

describe('plant time', () => {
  // Europe/London: GMT in November, BST (UTC+1) in July.
  it('is in the zone of the plant', () => {
    expect(clockTime(MORNING, 'Europe/London')).toBe('09:30:00')
    expect(clockTime(MORNING, 'Asia/Kathmandu')).toBe('15:15:00')
  })

  it('tells the two autumn hours with the same digits apart by the zone', () => {
    // Clocks went back on 2026-10-25 at 01:00 UTC.
    const [first, second] = [Date.UTC(2026, 9, 25, 0, 30), Date.UTC(2026, 9, 25, 1, 30)]
    expect(clockTime(first, 'Europe/London')).toBe(clockTime(second, 'Europe/London'))
    expect(dateTime(first, 'Europe/London')).not.toBe(dateTime(second, 'Europe/London'))
    expect([zoneName(first, 'Europe/London'), zoneName(second, 'Europe/London')]).toEqual(['BST', 'GMT'])
  })
})
