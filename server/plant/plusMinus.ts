import { z } from 'zod'
import { type Unit, unitOf } from '../wire/units.ts'
import { CONSTANT_SECTIONS, constantPaths, constantUnit } from './constants.ts'
import { idField } from './fields.ts'
import { readDifference, readMeasure } from './measures.ts'
import type { PlantFault, StatedError } from './plant.ts'
import { accuracy } from './schema.ts'

/** Curves whose points may carry a ±, by path. */
export const CURVE_PATHS = [
  'turbine.efficiencyCurve',
  'turbine.nozzleCurve',
  'generator.efficiencyCurve',
  'inverter.efficiencyCurve',
  'pump.headCurve',
  'forebay.volumeCurve',
] as const

/** As written, before it is known whether it can be read. */
export interface WrittenError {
  /** Undefined where a record gives none. */
  plusMinus: unknown
  value: unknown
  /** The rest of a record. */
  record: Record<string, unknown>
  isCurve: boolean
}

const PLUS_MINUS = /±|\+\/-|\+-/

/**
 * The ± of constants and curves of the plant file, which stands beside the value: `bore: 300 mm ± 1 mm`, or in the words
 * of an instrument's accuracy `{ value: 300 mm, plusMinus: 1 mm, distribution: normal, calibration: survey }`; a curve
 * has `points` in place of `value`. A ± in percent is a share of a value that is not written in percent itself:
 * `0.62 ± 2 %` is ± 0.0124, `94 % ± 1 %` goes from 93 to 95 %.
 *
 * Gives the document with bare values in place of those that carry a ±, and what was taken away, by path.
 */
export function takePlusMinus(raw: unknown): { bare: unknown; written: Map<string, WrittenError> } {
  const written = new Map<string, WrittenError>()
  if (!isRecord(raw)) return { bare: raw, written }
  const places = new Set<string>([...constantPaths, ...CURVE_PATHS])
  const strip = (value: unknown, path: string): unknown => {
    if (places.has(path)) {
      const found = readWritten(value)
      if (!found) return value
      written.set(path, found)
      return found.value
    }
    if (!isRecord(value)) return value
    return Object.fromEntries(
      Object.entries(value).map(([key, inner]) => [key, strip(inner, `${path}.${key}`)]),
    )
  }
  const sections: readonly string[] = CONSTANT_SECTIONS
  const bare = Object.fromEntries(
    Object.entries(raw).map(([key, value]) => [key, sections.includes(key) ? strip(value, key) : value]),
  )
  return { bare, written }
}

/** "0.62 ± 2 %" → what stands before and after the sign; undefined without one. */
export function splitPlusMinus(text: string): { amount: string; plusMinus: string } | undefined {
  const sign = PLUS_MINUS.exec(text)
  if (!sign) return undefined
  return {
    amount: text.slice(0, sign.index).trim(),
    plusMinus: text.slice(sign.index + sign[0].length).trim(),
  }
}

function readWritten(value: unknown): WrittenError | undefined {
  if (typeof value === 'string') {
    const split = splitPlusMinus(value)
    return split && { value: split.amount, plusMinus: split.plusMinus, record: {}, isCurve: false }
  }
  if (!isRecord(value)) return undefined
  const { value: amount, points, plusMinus, ...record } = value
  const isCurve = points !== undefined
  if (!isCurve && amount === undefined) return undefined
  return { value: isCurve ? points : amount, plusMinus, record, isCurve }
}

const recordFields = z.strictObject({
  distribution: accuracy.shape.distribution,
  calibration: idField.optional(),
})

/** What is stated, in SI, and everything that is wrong with it. */
export function readPlusMinus(written: ReadonlyMap<string, WrittenError>): {
  stated: Map<string, StatedError>
  faults: PlantFault[]
} {
  const stated = new Map<string, StatedError>()
  const faults: PlantFault[] = []
  for (const [path, one] of written) {
    const rest = recordFields.safeParse(one.record)
    const half = readHalf(path, one)
    if (!rest.success)
      for (const { path: inner, message } of rest.error.issues)
        faults.push({
          path: [path, ...inner].join('.'),
          received: JSON.stringify(one.record),
          expected: `${message.replace(/^Invalid [a-z]+: expected /, '')}, among the fields value or points, plusMinus, distribution, calibration`,
        })
    if ('expected' in half) faults.push({ path, received: show(one.plusMinus), expected: half.expected })
    if (!rest.success || 'expected' in half) continue
    const { distribution, calibration } = rest.data
    stated.set(path, {
      ...half,
      isRectangular: distribution === 'rectangular',
      ...(calibration === undefined ? {} : { calibration }),
    })
  }
  return { stated, faults }
}

function readHalf(
  path: string,
  { value, plusMinus, isCurve }: WrittenError,
): { half: number; isShare: boolean } | { expected: string } {
  const text = String(plusMinus ?? '').trim()
  const isCurvePath = (CURVE_PATHS as readonly string[]).includes(path)
  if (isCurve !== isCurvePath)
    return { expected: isCurvePath ? '"points" with a "plusMinus" beside them' : 'an amount, not points' }
  const unit = unitOf(path === 'forebay.volumeCurve' ? 'm3' : constantUnit(path))
  // Points of a curve are plain numbers, and so may their ± be.
  if (isCurve && /^[\d.eE+-]+$/.test(text)) return notNegative({ half: Number(text), isShare: false })
  return readHalfOf(String(value), text, unit)
}

/** What stands after the ± of an amount with this unit. */
export function readHalfOf(
  amount: string,
  text: string,
  unit: Unit,
): { half: number; isShare: boolean } | { expected: string } {
  const isShare = text.endsWith('%') && !amount.trim().endsWith('%')
  const read = isShare ? readMeasure(text, unitOf('1')) : readDifference(text, unit)
  if ('expected' in read)
    return { expected: `after ±, or as plusMinus, ${read.expected}, or a share such as "1 %"` }
  return notNegative({ half: read.si, isShare })
}

function notNegative(read: {
  half: number
  isShare: boolean
}): { half: number; isShare: boolean } | { expected: string } {
  if (Number.isFinite(read.half) && read.half >= 0) return read
  return { expected: 'after ±, or as plusMinus, an amount that is not negative' }
}

function show(value: unknown): string {
  if (value === undefined) return 'nothing'
  return typeof value === 'string' ? `"${value.slice(0, 60)}"` : JSON.stringify(value).slice(0, 60)
}

function isRecord(value: unknown): value is Record<string, unknown> {
  return typeof value === 'object' && value !== null && !Array.isArray(value)
}
