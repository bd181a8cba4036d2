import type { Dimension } from '../wire/units.ts'
import { equal, isPlain } from './dimensions.ts'

/** A function that formulas may call. Those of server/physics are in physicalFunctions.ts. */
export interface FormulaFunction {
  run: (...values: number[]) => number
  /** Unit of the result from those of the arguments, or the sentence that says what is wrong. */
  dimension: (args: readonly Dimension[]) => Dimension | string
  /** Of any number of arguments: a list among them counts as all its members. */
  ofLists?: true
  /** What is wrong with arguments written out as numbers; NaN stands for any other argument. */
  fault?: (written: readonly number[]) => string | undefined
  /** Where the error of its result stands in the column, and what the result is with it. */
  error?: { slot: number; move: (result: number, error: number) => number }
}

const NONE: Dimension = [0, 0, 0, 0, 0]

/** Arguments and result all in one unit. */
const alike: FormulaFunction['dimension'] = (args) => {
  const first = args[0]
  if (!first) return 'expects at least one argument'
  return args.every((one) => equal(one, first)) ? first : 'expects arguments of one unit'
}

const plain: FormulaFunction['dimension'] = (args) =>
  args.length === 1 && isPlain(args[0]!) ? NONE : 'expects one plain number'

const root: FormulaFunction['dimension'] = ([first, second]) =>
  first && !second ? (first.map((exponent) => exponent / 2) as unknown as Dimension) : 'expects one argument'

export const formulaFunctions: Record<string, FormulaFunction> = {
  abs: { run: Math.abs, dimension: alike },
  min: { run: Math.min, dimension: alike, ofLists: true },
  max: { run: Math.max, dimension: alike, ofLists: true },
  sum: { run: sumOf, dimension: alike, ofLists: true },
  mean: { run: (...values) => sumOf(...values) / values.length, dimension: alike, ofLists: true },
  sqrt: { run: Math.sqrt, dimension: root },
  exp: { run: Math.exp, dimension: plain },
  ln: { run: Math.log, dimension: plain },
  log10: { run: Math.log10, dimension: plain },
  sin: { run: Math.sin, dimension: plain },
  cos: { run: Math.cos, dimension: plain },
  tan: { run: Math.tan, dimension: plain },
  acos: { run: Math.acos, dimension: plain },
  interpolate: { run: readTable, dimension: ofTable, fault: notRising },
}

function sumOf(...values: number[]): number {
  let total = 0
  for (const one of values) total += one
  return total
}

/**
 * A table written into the formula, interpolate(x, x₁, y₁, x₂, y₂, …): straight lines between its points, and NaN
 * outside of them, since nothing is known there.
 */
function readTable(x = Number.NaN, ...points: number[]): number {
  for (let i = 2; i < points.length; i += 2) {
    const [x0, x1] = [points[i - 2]!, points[i]!]
    if (!(x >= x0 && x <= x1)) continue
    const [y0, y1] = [points[i - 1]!, points[i + 1]!]
    return y0 + ((y1 - y0) * (x - x0)) / (x1 - x0)
  }
  return Number.NaN
}

function ofTable(args: readonly Dimension[]): Dimension | string {
  if (args.length < 5 || args.length % 2 === 0)
    return 'expects x and then two points or more: x1, y1, x2, y2, …'
  const [x, , y] = args
  const isAlike = args.every((one, i) => equal(one, i > 0 && i % 2 === 0 ? y! : x!))
  return isAlike
    ? y!
    : 'expects every x of the table in the unit of the first argument, and every y in one unit'
}

function notRising(written: readonly number[]): string | undefined {
  const fallen = written.findIndex((x, i) => i > 2 && i % 2 === 1 && x <= written[i - 2]!)
  return fallen === -1
    ? undefined
    : `${written[fallen]} after ${written[fallen - 2]}: expects points with rising x`
}

/** A curve reaches this share of its length beyond its ends. */
const CURVE_REACH = 0.1

/**
 * A curve of the plant file as a function: straight lines between its points. Its end values hold for a tenth of its
 * length beyond the ends, since no machine stops at the last point of its test; further out it is NaN.
 */
export function interpolation(points: readonly (readonly [number, number])[]): FormulaFunction {
  return { run: (x = Number.NaN) => interpolate(points, x), dimension: plain }
}

function interpolate(points: readonly (readonly [number, number])[], x: number): number {
  const first = points[0]
  const last = points.at(-1)
  if (!first || !last || Number.isNaN(x)) return Number.NaN
  const reach = CURVE_REACH * (last[0] - first[0])
  if (x <= first[0]) return x >= first[0] - reach ? first[1] : Number.NaN
  if (x >= last[0]) return x <= last[0] + reach ? last[1] : Number.NaN
  const right = points.findIndex(([px]) => px >= x)
  const [x0, y0] = points[right - 1]!
  const [x1, y1] = points[right]!
  return y0 + ((y1 - y0) * (x - x0)) / (x1 - x0)
}

/** What formulas of figures that look back call (windows.ts gives the value). Own figures cannot. */
export const windowFunctions: Record<string, FormulaFunction> = {
  slope: { run: () => Number.NaN, dimension: (args) => oneOf(args, perSecond) },
  // As uncertain as what it is the mean of: an instrument's error does not average out.
  meanOverTime: { run: (x = Number.NaN) => x, dimension: (args) => oneOf(args, (one) => one) },
}

const perSecond = ([m, kg, s, ampere, kelvin]: Dimension): Dimension => [m, kg, s - 1, ampere, kelvin]

function oneOf(args: readonly Dimension[], result: (one: Dimension) => Dimension): Dimension | string {
  return args.length === 1 ? result(args[0]!) : 'expects one argument'
}
