/**
 * How values on the wire (UCUM codes) are written for people. The server's table has dimensions
 * besides; test/web/words.test.ts holds the two together. SI value = factor × value + offset.
 */
const ROWS: [code: string, print: string, factor: number, offset?: number][] = [
  ['1', '', 1],
  ['%', '%', 0.01],
  ['rad', 'rad', 1],
  ['deg', '°', Math.PI / 180],
  ['m', 'm', 1],
  ['cm', 'cm', 0.01],
  ['mm', 'mm', 0.001],
  ['m2', 'm²', 1],
  ['m3', 'm³', 1],
  ['L', 'L', 0.001],
  ['m3/s', 'm³/s', 1],
  ['L/s', 'L/s', 0.001],
  ['L/min', 'L/min', 0.001 / 60],
  ['m3/h', 'm³/h', 1 / 3600],
  ['m/s', 'm/s', 1],
  ['mm/s', 'mm/s', 0.001],
  ['Pa', 'Pa', 1],
  ['hPa', 'hPa', 100],
  ['kPa', 'kPa', 1000],
  ['mbar', 'mbar', 100],
  ['bar', 'bar', 1e5],
  ['kg/m3', 'kg/m³', 1],
  ['N.m', 'N·m', 1],
  ['W', 'W', 1],
  ['kW', 'kW', 1000],
  ['MW', 'MW', 1e6],
  ['V.A', 'VA', 1],
  ['kV.A', 'kVA', 1000],
  ['var', 'var', 1],
  ['kvar', 'kvar', 1000],
  ['J', 'J', 1],
  ['W.h', 'Wh', 3600],
  ['kW.h', 'kWh', 3.6e6],
  ['MW.h', 'MWh', 3.6e9],
  ['J/m3', 'J/m³', 1],
  ['kW.h/m3', 'kWh/m³', 3.6e6],
  ['V', 'V', 1],
  ['mV', 'mV', 0.001],
  ['A', 'A', 1],
  ['mA', 'mA', 0.001],
  ['Ohm', 'Ω', 1],
  ['C', 'C', 1],
  ['A.h', 'Ah', 3600],
  ['rad/s', 'rad/s', 1],
  ['/min', 'min⁻¹', (2 * Math.PI) / 60],
  ['{rpm}', 'rpm', (2 * Math.PI) / 60],
  ['Hz', 'Hz', 1],
  ['/s', 's⁻¹', 1],
  ['s', 's', 1],
  ['ms', 'ms', 0.001],
  ['min', 'min', 60],
  ['h', 'h', 3600],
  ['d', 'd', 86_400],
  ['K', 'K', 1],
  ['km', 'km', 1000],
  ['[ft_i]', 'ft', 0.3048],
  ['mm2', 'mm²', 1e-6],
  ['m/s2', 'm/s²', 1],
  ['s2/m5', 's²/m⁵', 1],
  ['MPa', 'MPa', 1e6],
  ['m[H2O]', 'mH₂O', 9806.65],
  ['Pa.s', 'Pa·s', 1],
  ['m2/s', 'm²/s', 1],
  ['mm2/s', 'mm²/s', 1e-6],
  ['kg.m2', 'kg·m²', 1],
  ['kg', 'kg', 1],
  ['N', 'N', 1],
  ['kV', 'kV', 1000],
  ['mH', 'mH', 0.001],
  ['H', 'H', 1],
  ['Wb', 'Wb', 1],
  ['V.s', 'V·s', 1],
  ['a', 'a', 31557600],
  ['/h', 'h⁻¹', 1 / 3600],
  ['/d', 'd⁻¹', 1 / 86_400],
  ['rad/s2', 'rad/s²', 1],
  ['/min/s', 'min⁻¹/s', (2 * Math.PI) / 60],
  ['V.s/rad', 'V·s/rad', 1],
  ['mV/{rpm}', 'mV/rpm', (0.001 * 60) / (2 * Math.PI)],
  ['W/m2', 'W/m²', 1],
  ['kW/m2', 'kW/m²', 1000],
  ['W/m3', 'W/m³', 1],
  ['kW/m3', 'kW/m³', 1000],
  ['W/kg', 'W/kg', 1],
  ['J/kg', 'J/kg', 1],
  ['kg/s', 'kg/s', 1],
  ['kg/h', 'kg/h', 1 / 3600],
  ['kg/J', 'kg/J', 1],
  ['kg/(kW.h)', 'kg/kWh', 1 / 3.6e6],
  ['m3/J', 'm³/J', 1],
  ['m3/(kW.h)', 'm³/kWh', 1 / 3.6e6],
  ['L/(kW.h)', 'L/kWh', 0.001 / 3.6e6],
  ['/J', 'J⁻¹', 1],
  ['/(kW.h)', 'kWh⁻¹', 1 / 3.6e6],
  ['/m3', 'm⁻³', 1],
  ['m/d', 'm/d', 1 / 86_400],
  ['mm/min', 'mm/min', 0.001 / 60],
  ['Cel', '°C', 1, 273.15],
]

const BY_CODE = new Map(ROWS.map(([code, print, factor, offset = 0]) => [code, { print, factor, offset }]))

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
    value: (value) => (value * from.factor + from.offset - to.offset) / to.factor,
    difference: (value) => (value * from.factor) / to.factor,
  }
}

export function printUnit(code: string): string {
  return BY_CODE.get(code)?.print ?? code
}

const COUNTER_VIEWS: Record<string, string> = { J: 'kW.h', s: 'h', C: 'A.h' }

/** Counters come in SI; energy, time and charge are read in kWh, hours and Ah. */
export function counterUnit(wire: string): UnitView {
  return unitView(wire, COUNTER_VIEWS[wire] ?? wire)
}
