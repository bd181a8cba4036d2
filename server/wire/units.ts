/**
 * Units of measurement, named by their UCUM codes (The Unified Code for Units of Measure), for server and browser.
 * SI inside; everything else is converted on the way in and on the way to the eye.
 */

/** Exponents of metre, kilogram, second, ampere, kelvin. Angles and counts are 1. */
export type Dimension = readonly [m: number, kg: number, s: number, A: number, K: number]

export interface Unit {
  /** UCUM code, case-sensitive. */
  code: string
  /** How people write it, e.g. "m³/s". */
  print: string
  dimension: Dimension
  /** SI value = factor × value + offset. */
  factor: number
  offset: number
  /** Tells apart what has equal dimension but is not the same thing: speed and frequency, torque and energy. */
  kind: Kind
}

type Kind = 'plain' | 'angular' | 'torque' | 'apparent' | 'reactive' | 'perVolume'

const NONE: Dimension = [0, 0, 0, 0, 0]
const LENGTH: Dimension = [1, 0, 0, 0, 0]
const FLOW: Dimension = [3, 0, -1, 0, 0]
const PRESSURE: Dimension = [-1, 1, -2, 0, 0]
const POWER: Dimension = [2, 1, -3, 0, 0]
const ENERGY: Dimension = [2, 1, -2, 0, 0]
const VOLTAGE: Dimension = [2, 1, -3, -1, 0]
const CURRENT: Dimension = [0, 0, 0, 1, 0]
const RATE: Dimension = [0, 0, -1, 0, 0]
const TIME: Dimension = [0, 0, 1, 0, 0]
const VOLUME: Dimension = [3, 0, 0, 0, 0]
const CHARGE: Dimension = [0, 0, 1, 1, 0]
const TEMPERATURE: Dimension = [0, 0, 0, 0, 1]
const SPEED: Dimension = [1, 0, -1, 0, 0]

const KINDS: Record<string, Kind> = {
  rad: 'angular',
  deg: 'angular',
  'rad/s': 'angular',
  '/min': 'angular',
  '{rpm}': 'angular',
  'rad/s2': 'angular',
  '/min/s': 'angular',
  'V.s/rad': 'angular',
  'mV/{rpm}': 'angular',
  'N.m': 'torque',
  'kN.m': 'torque',
  'J/m3': 'perVolume',
  'kW.h/m3': 'perVolume',
  'V.A': 'apparent',
  'kV.A': 'apparent',
  var: 'reactive',
  kvar: 'reactive',
  Mvar: 'reactive',
  'var.s': 'reactive',
  'var.h': 'reactive',
  'kvar.h': 'reactive',
  'Mvar.h': 'reactive',
}

const ROWS: [code: string, print: string, dimension: Dimension, factor: number, offset?: number][] = [
  ['1', '', NONE, 1],
  ['%', '%', NONE, 0.01],
  ['rad', 'rad', NONE, 1],
  ['deg', '°', NONE, Math.PI / 180],
  ['m', 'm', LENGTH, 1],
  ['cm', 'cm', LENGTH, 0.01],
  ['mm', 'mm', LENGTH, 0.001],
  ['km', 'km', LENGTH, 1000],
  ['um', 'µm', LENGTH, 1e-6],
  ['[in_i]', 'in', LENGTH, 0.0254],
  ['[ft_i]', 'ft', LENGTH, 0.3048],
  ['m2', 'm²', [2, 0, 0, 0, 0], 1],
  ['mm2', 'mm²', [2, 0, 0, 0, 0], 1e-6],
  ['m3', 'm³', VOLUME, 1],
  ['L', 'L', VOLUME, 0.001],
  ['m3/s', 'm³/s', FLOW, 1],
  ['L/s', 'L/s', FLOW, 0.001],
  ['L/min', 'L/min', FLOW, 0.001 / 60],
  ['m3/h', 'm³/h', FLOW, 1 / 3600],
  ['m/s', 'm/s', SPEED, 1],
  ['m/s2', 'm/s²', [1, 0, -2, 0, 0], 1],
  ['mm/s', 'mm/s', SPEED, 0.001],
  ['s2/m5', 's²/m⁵', [-5, 0, 2, 0, 0], 1],
  ['Pa', 'Pa', PRESSURE, 1],
  ['hPa', 'hPa', PRESSURE, 100],
  ['kPa', 'kPa', PRESSURE, 1000],
  ['MPa', 'MPa', PRESSURE, 1e6],
  ['mbar', 'mbar', PRESSURE, 100],
  ['bar', 'bar', PRESSURE, 1e5],
  ['m[H2O]', 'mH₂O', PRESSURE, 9806.65],
  ['[psi]', 'psi', PRESSURE, 4.4482216152605 / 0.0254 ** 2],
  ['kg/m3', 'kg/m³', [-3, 1, 0, 0, 0], 1],
  ['Pa.s', 'Pa·s', [-1, 1, -1, 0, 0], 1],
  ['m2/s', 'm²/s', [2, 0, -1, 0, 0], 1],
  ['mm2/s', 'mm²/s', [2, 0, -1, 0, 0], 1e-6],
  ['kg.m2', 'kg·m²', [2, 1, 0, 0, 0], 1],
  ['kg', 'kg', [0, 1, 0, 0, 0], 1],
  ['N', 'N', [1, 1, -2, 0, 0], 1],
  ['N.m', 'N·m', ENERGY, 1],
  ['kN.m', 'kN·m', ENERGY, 1000],
  ['W', 'W', POWER, 1],
  ['kW', 'kW', POWER, 1000],
  ['MW', 'MW', POWER, 1e6],
  ['GW', 'GW', POWER, 1e9],
  ['V.A', 'VA', POWER, 1],
  ['kV.A', 'kVA', POWER, 1000],
  ['var', 'var', POWER, 1],
  ['kvar', 'kvar', POWER, 1000],
  ['Mvar', 'Mvar', POWER, 1e6],
  ['var.s', 'var·s', ENERGY, 1],
  ['var.h', 'varh', ENERGY, 3600],
  ['kvar.h', 'kvarh', ENERGY, 3.6e6],
  ['Mvar.h', 'Mvarh', ENERGY, 3.6e9],
  ['J', 'J', ENERGY, 1],
  ['W.h', 'Wh', ENERGY, 3600],
  ['kW.h', 'kWh', ENERGY, 3.6e6],
  ['MW.h', 'MWh', ENERGY, 3.6e9],
  ['GW.h', 'GWh', ENERGY, 3.6e12],
  ['J/m3', 'J/m³', [-1, 1, -2, 0, 0], 1],
  ['kW.h/m3', 'kWh/m³', [-1, 1, -2, 0, 0], 3.6e6],
  ['V', 'V', VOLTAGE, 1],
  ['mV', 'mV', VOLTAGE, 0.001],
  ['kV', 'kV', VOLTAGE, 1000],
  ['A', 'A', CURRENT, 1],
  ['mA', 'mA', CURRENT, 0.001],
  ['Ohm', 'Ω', [2, 1, -3, -2, 0], 1],
  ['mH', 'mH', [2, 1, -2, -2, 0], 0.001],
  ['H', 'H', [2, 1, -2, -2, 0], 1],
  ['Wb', 'Wb', [2, 1, -2, -1, 0], 1],
  ['V.s', 'V·s', [2, 1, -2, -1, 0], 1],
  ['C', 'C', CHARGE, 1],
  ['A.h', 'Ah', CHARGE, 3600],
  ['rad/s', 'rad/s', RATE, 1],
  ['/min', 'min⁻¹', RATE, (2 * Math.PI) / 60],
  ['{rpm}', 'rpm', RATE, (2 * Math.PI) / 60],
  ['/s', 's⁻¹', RATE, 1],
  ['Hz', 'Hz', RATE, 1],
  ['/h', 'h⁻¹', RATE, 1 / 3600],
  ['/d', 'd⁻¹', RATE, 1 / 86400],
  ['rad/s2', 'rad/s²', [0, 0, -2, 0, 0], 1],
  ['/min/s', 'min⁻¹/s', [0, 0, -2, 0, 0], (2 * Math.PI) / 60],
  ['V.s/rad', 'V·s/rad', [2, 1, -2, -1, 0], 1],
  // phase voltage per revolution in a minute
  ['mV/{rpm}', 'mV/rpm', [2, 1, -2, -1, 0], (0.001 * 60) / (2 * Math.PI)],
  ['W/m2', 'W/m²', [0, 1, -3, 0, 0], 1],
  ['kW/m2', 'kW/m²', [0, 1, -3, 0, 0], 1000],
  ['W/m3', 'W/m³', [-1, 1, -3, 0, 0], 1],
  ['kW/m3', 'kW/m³', [-1, 1, -3, 0, 0], 1000],
  ['W/kg', 'W/kg', [2, 0, -3, 0, 0], 1],
  ['J/kg', 'J/kg', [2, 0, -2, 0, 0], 1],
  ['kg/s', 'kg/s', [0, 1, -1, 0, 0], 1],
  ['kg/h', 'kg/h', [0, 1, -1, 0, 0], 1 / 3600],
  ['kg/J', 'kg/J', [-2, 0, 2, 0, 0], 1],
  ['kg/(kW.h)', 'kg/kWh', [-2, 0, 2, 0, 0], 1 / 3.6e6],
  ['m3/J', 'm³/J', [1, -1, 2, 0, 0], 1],
  ['m3/(kW.h)', 'm³/kWh', [1, -1, 2, 0, 0], 1 / 3.6e6],
  ['L/(kW.h)', 'L/kWh', [1, -1, 2, 0, 0], 0.001 / 3.6e6],
  ['/J', 'J⁻¹', [-2, -1, 2, 0, 0], 1],
  ['/(kW.h)', 'kWh⁻¹', [-2, -1, 2, 0, 0], 1 / 3.6e6],
  ['/m3', 'm⁻³', [-3, 0, 0, 0, 0], 1],
  ['m/d', 'm/d', SPEED, 1 / 86400],
  ['mm/min', 'mm/min', SPEED, 0.001 / 60],
  ['mm/h', 'mm/h', SPEED, 0.001 / 3600],
  ['s', 's', TIME, 1],
  ['ms', 'ms', TIME, 0.001],
  ['min', 'min', TIME, 60],
  ['h', 'h', TIME, 3600],
  ['d', 'd', TIME, 86400],
  ['a', 'a', TIME, 31557600],
  ['K', 'K', TEMPERATURE, 1],
  ['Cel', '°C', TEMPERATURE, 1, 273.15],
  ['[degF]', '°F', TEMPERATURE, 5 / 9, (459.67 * 5) / 9],
]

const BY_CODE = new Map<string, Unit>(
  ROWS.map(([code, print, dimension, factor, offset = 0]) => [
    code,
    { code, print, dimension, factor, offset, kind: KINDS[code] ?? 'plain' },
  ]),
)

/** The unit with this UCUM code, or undefined. */
export function findUnit(code: string): Unit | undefined {
  return BY_CODE.get(code)
}

/** All units, in the order of the table. */
export const allUnits: readonly Unit[] = [...BY_CODE.values()]

/** @throws {RangeError} for an unknown code: a programming error; plant files are checked with `findUnit` first. */
export function unitOf(code: string): Unit {
  const unit = BY_CODE.get(code)
  if (!unit) throw new RangeError(`unit "${code}" is not in server/wire/units.ts`)
  return unit
}

export function isSameDimension(a: Unit, b: Unit): boolean {
  return a.dimension.every((exponent, i) => exponent === b.dimension[i])
}

/** True where a value in `a` can be written in `b`: min⁻¹ ↔ rad/s, but not Hz ↔ rad/s. */
export function isConvertible(a: Unit, b: Unit): boolean {
  return a.kind === b.kind && isSameDimension(a, b)
}

/** Codes of all units that measure the same thing as `unit`, for error messages. */
export function unitsLike(unit: Unit): string[] {
  return [...BY_CODE.values()].filter((other) => isConvertible(other, unit)).map((other) => other.code)
}

/** The unit of the same thing that needs no conversion: itself where it needs none, or the first in the table. */
export function siUnitOf(unit: Unit): Unit {
  const isSi = ({ factor, offset }: Unit) => factor === 1 && offset === 0
  return isSi(unit)
    ? unit
    : ([...BY_CODE.values()].find((other) => isSi(other) && isConvertible(other, unit)) ?? unit)
}

export function toSi(value: number, unit: Unit): number {
  return value * unit.factor + unit.offset
}

export function fromSi(value: number, unit: Unit): number {
  return (value - unit.offset) / unit.factor
}

/** A way from a wire value to what is read. */
export interface UnitView {
  /** As printed, e.g. "m³/s"; "" for a plain number. */
  print: string
  /** A value: offsets count (293.15 K → 20 °C). */
  value: (wire: number) => number
  /** A difference or uncertainty: offsets do not count (2 K → 2 °C). */
  difference: (wire: number) => number
}

/**
 * The way from unit `wire` to unit `view`. A code this table does not hold is shown unconverted under its
 * own name: an unfamiliar unit is better than a wrong number.
 */
export function unitView(wire: string, view: string): UnitView {
  const from = BY_CODE.get(wire)
  const to = BY_CODE.get(view)
  if (!from || !to) {
    const same = (value: number) => value
    return { print: from?.print ?? wire, value: same, difference: same }
  }
  return {
    print: to.print,
    value: (value) => fromSi(toSi(value, from), to),
    difference: (value) => (value * from.factor) / to.factor,
  }
}

/** "m3/s" → "m³/s"; a code this table does not hold stands for itself. */
export function printUnit(code: string): string {
  return BY_CODE.get(code)?.print ?? code
}
