import { describe, expect, it } from 'vitest'
import { roles } from '../../server/plant/roles.ts'
import { fromSi, toSi, unitOf, unitsLike } from '../../server/plant/units.ts'
import { ageWords, agoWords, durationWords, roughDuration } from '../../web/format/age.ts'
import { clockTime, dateTime, zoneName } from '../../web/format/time.ts'
import { pageTitle } from '../../web/format/title.ts'
import { counterUnit, printUnit, unitView } from '../../web/format/units.ts'
import { MORNING } from './support.ts'

/** Units of all quantities that an instrument can measure. */
const servedUnits = [...new Set(roles.flatMap((role) => [role.unit, role.view]))].map(unitOf)

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

describe('unitView', () => {
  // Definitions: 1 bar = 10⁵ Pa; 1500 min⁻¹ = 50π rad/s; 0 °C = 273.15 K (SI Brochure, 9th edition).
  it.each([
    ['Pa', 'bar', 233_000, 2.33, 'bar'],
    ['rad/s', '/min', 50 * Math.PI, 1500, 'min⁻¹'],
    ['K', 'Cel', 293.15, 20, '°C'],
    ['m3/s', 'L/s', 0.003605, 3.605, 'L/s'],
    ['1', '%', 0.7, 70, '%'],
    ['J', 'kW.h', 3.6e6, 1, 'kWh'],
  ])('reads %s in %s', (wire, view, value, expected, print) => {
    const unit = unitView(wire, view)
    expect(unit.value(value)).toBeCloseTo(expected, 9)
    expect(unit.print).toBe(print)
  })

  it('leaves the zero point out of a difference', () => {
    expect(unitView('K', 'Cel').difference(2)).toBeCloseTo(2, 12)
  })

  it('shows a unit it does not know unconverted under its own name', () => {
    const unit = unitView('furlong', 'kW')
    expect([unit.print, unit.value(3)]).toEqual(['furlong', 3])
  })

  it('prints and converts every unit as the table of the server does', () => {
    for (const unit of servedUnits) {
      const like = unitsLike(unit).map((code) => unitOf(code))
      for (const other of like) {
        const expected = fromSi(toSi(3, unit), other)
        expect(
          unitView(unit.code, other.code).value(3) / expected,
          `${unit.code} → ${other.code}`,
        ).toBeCloseTo(1, 9)
      }
      expect(printUnit(unit.code)).toBe(unit.print)
    }
  })

  it('reads counters of energy in kWh and of time in hours', () => {
    expect([counterUnit('J').print, counterUnit('s').value(7200), counterUnit('m3').print]).toEqual([
      'kWh',
      2,
      'm³',
    ])
  })
})
