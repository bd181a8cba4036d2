import { fromSi, unitOf } from '../../plant/units.ts'
import type { FigureDescription } from '../../wire/figure.ts'
import { decimalsFor } from './decimals.ts'

type Units = Pick<FigureDescription, 'unit' | 'viewUnit'>

/** A way from SI to the unit that people read. */
export interface UnitWay {
  /** As printed, e.g. "m³/s"; "" for a plain number. */
  print: string
  value(si: number): number
  /** A difference or uncertainty: offsets do not count. */
  difference(si: number): number
}

export function unitWay({ viewUnit }: Units): UnitWay {
  const unit = unitOf(viewUnit)
  return {
    print: unit.print,
    value: (si) => fromSi(si, unit),
    difference: (si) => si / unit.factor,
  }
}

/** "70.5 ± 1.0": the value ends where its uncertainty does (JCGM 100:2008, 7.2.6). */
export function withInterval(figure: Units, value: number, u95: number): string {
  const way = unitWay(figure)
  const half = way.difference(u95)
  if (!(half > 0)) return plain(way.value(value))
  const decimals = decimalsFor(half)
  return `${fixed(way.value(value), decimals)} ± ${fixed(half, decimals)}`
}

/** "70.5 (69.7 to 71.3)". */
export function withEnds(figure: Units, value: number, [low, high]: readonly [number, number]): string {
  const way = unitWay(figure)
  const decimals = decimalsFor(way.difference((high - low) / 2) || Math.abs(way.value(value)) / 1000)
  const text = (one: number) => fixed(way.value(one), decimals)
  return `${text(value)} (${text(low)} to ${text(high)})`
}

/** "70.5 ± 1.0" where the ends are about as far from the value, "2.8 (2.7 to 4.6)" where they are not. */
export function withEither(figure: Units, value: number, [low, high]: readonly [number, number]): string {
  const isEven = Math.abs(high - value - (value - low)) < 0.2 * (high - low)
  return isEven ? withInterval(figure, value, (high - low) / 2) : withEnds(figure, value, [low, high])
}

/** "Discharge [L/s]". */
export function titleWithUnit(figure: Pick<FigureDescription, 'name' | 'unit' | 'viewUnit'>): string {
  const { print } = unitWay(figure)
  return print === '' ? figure.name : `${figure.name} [${print}]`
}

/** Five significant digits, as a person writes a number. */
export function plain(value: number, digits = 5): string {
  const [factor, exponent] = value.toExponential(digits - 1).split('e')
  const power = Number(exponent)
  if (value === 0 || (power >= -4 && power <= 6)) return signed(String(Number(value.toPrecision(digits))))
  return `${signed(String(Number(factor)))}·10${raised(power)}`
}

function signed(text: string): string {
  return text.replace('-', '\u2212')
}

function raised(power: number): string {
  return Array.from(String(power), (one) => (one === '-' ? '⁻' : '⁰¹²³⁴⁵⁶⁷⁸⁹'[Number(one)]!)).join('')
}

/** "m3/s" → "m³/s"; "" for a plain number. */
export function printUnit(code: string): string {
  return code === '' ? '' : unitOf(code).print
}

/** A value with its unit, in the unit that people read. */
export function amountText(figure: Units, value: number): string {
  const way = unitWay(figure)
  return `${plain(way.value(value))} ${way.print}`.trim()
}

/** A tolerance or difference with its unit. */
export function differenceText(figure: Units, value: number): string {
  const way = unitWay(figure)
  return `${plain(way.difference(value))} ${way.print}`.trim()
}

function fixed(value: number, decimals: number): string {
  const step = decimals < 0 ? 10 ** -decimals : 1
  const text = (Math.round(value / step) * step).toFixed(0)
  return (decimals < 0 ? text : value.toFixed(Math.min(decimals, 12))).replace('-', '\u2212')
}
