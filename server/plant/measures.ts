import { isConvertible, toSi, type Unit, unitsLike } from '../wire/units.ts'
import { nearUnits, unitNamed } from './unitNames.ts'

export interface Measure {
  /** In SI. */
  si: number
  unit: Unit
}

const LONGEST_AMOUNT = 64
const NUMBER_AND_UNIT = /^\s*([-+]?(?:\d+(?:\.\d*)?|\.\d+)(?:[eE][-+]?\d+)?)\s*(\S+)?\s*$/

/**
 * Reads "24 m", "0.25 %", "1500 /min" into SI. A unit is always required, so that nobody has to guess.
 * Returns the sentence that says what was expected instead of throwing: bad data is a value.
 */
export function readMeasure(text: string, like: Unit): Measure | { expected: string } {
  const match = text.length > LONGEST_AMOUNT ? null : NUMBER_AND_UNIT.exec(text)
  const unit = unitNamed(match?.[2] ?? '1')
  if (!match || !unit || !isConvertible(unit, like)) {
    const near = unit || !match ? [] : nearUnits(match[2]!, like)
    const hint = near.length === 0 ? '' : ` (did you mean ${near.join(' or ')}?)`
    return {
      expected: `a number with one of the units ${unitsLike(like).join(', ')}, e.g. "${exampleOf(like)}"${hint}`,
    }
  }
  return { si: toSi(Number(match[1]), unit), unit }
}

/** As `readMeasure`, whatever the unit measures: "0.35 m3", "0.30 /(kW.h)". A number alone is a plain number. */
export function readAmount(text: string): Measure | { expected: string } {
  const code = text.length > LONGEST_AMOUNT ? undefined : (NUMBER_AND_UNIT.exec(text)?.[2] ?? '1')
  const unit = unitNamed(code ?? '')
  return unit ? readMeasure(text, unit) : { expected: 'a number with a UCUM unit code, e.g. "0.35 m3"' }
}

/** As `readMeasure`, for a difference (deadband, accuracy): 3 °C is 3 K, not 276.15 K. */
export function readDifference(text: string, like: Unit): Measure | { expected: string } {
  const measure = readMeasure(text, like)
  return 'expected' in measure ? measure : { ...measure, si: measure.si - measure.unit.offset }
}

function exampleOf(unit: Unit): string {
  if (unit.code === 'K') return '12.5 Cel'
  return unit.code === '1' ? '50 %' : `12.5 ${unit.code}`
}
