import { describe, expect, it } from 'vitest'
import { readDifference, readMeasure } from '../../../server/plant/measures.ts'
import { fromSi, isConvertible, toSi, unitOf, unitView } from '../../../server/wire/units.ts'

// Conversion factors: exact definitions of the SI brochure (2019) and, where marked, of the unit itself.
const EXACT: [value: number, code: string, si: number][] = [
  [1, 'bar', 1e5],
  [1, 'm[H2O]', 9806.65], // conventional metre of water, 1000 kg/m³ × 9.80665 m/s²
  [1, '[ft_i]', 0.3048], // international foot
  [3.6, 'm3/h', 0.001],
  [60, 'L/min', 0.001],
  [1500, '/min', 50 * Math.PI],
  [1, 'kW.h', 3.6e6],
  [0, 'Cel', 273.15],
  [100, 'Cel', 373.15],
  [50, '%', 0.5],
  [180, 'deg', Math.PI],
  [1, 'A.h', 3600],
  // NIST SP 811 (2008), appendix B: exact pound-force over the square of the exact inch
  [1, '[psi]', 6894.757293168],
  [1, '[in_i]', 0.0254],
  [212, '[degF]', 373.15],
  [1, 'kvar.h', 3.6e6],
  [1, 'GW.h', 3.6e12],
  [1, 'kN.m', 1000],
]

describe('units', () => {
  it.each(EXACT)('%d %s is %d in SI, and back', (value, code, si) => {
    expect(toSi(value, unitOf(code))).toBeCloseTo(si, 9)
    expect(fromSi(si, unitOf(code))).toBeCloseTo(value, 9)
  })

  it('keeps apart what only looks alike', () => {
    expect(isConvertible(unitOf('Hz'), unitOf('/min'))).toBe(false)
    expect(isConvertible(unitOf('N.m'), unitOf('J'))).toBe(false)
    expect(isConvertible(unitOf('var'), unitOf('W'))).toBe(false)
  })

  it('reads a temperature and a temperature difference differently', () => {
    expect(readMeasure('3 Cel', unitOf('K'))).toMatchObject({ si: 276.15 })
    expect(readDifference('3 Cel', unitOf('K'))).toMatchObject({ si: 3 })
    expect(readDifference('3 K', unitOf('K'))).toMatchObject({ si: 3 })
  })

  it.each(['12,4 m', 'm', '', '1e m', '3 m m', 'NaN m', 'Infinity m', '0x10 m'])(
    'refuses %j as a length',
    (text) => {
      expect(readMeasure(text, unitOf('m'))).toHaveProperty('expected')
    },
  )
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
})
