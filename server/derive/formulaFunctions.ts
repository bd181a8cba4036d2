import type { Dimension } from '../plant/units.ts'

/** A function that formulas may call. Those of server/physics are in physicalFunctions.ts. */
export interface FormulaFunction {
  run: (...values: number[]) => number
  /** Unit of the result from those of the arguments, or the sentence that says what is wrong. */
  dimension: (args: readonly Dimension[]) => Dimension | string
}

const NONE: Dimension = [0, 0, 0, 0, 0]

const isSame = (a: Dimension, b: Dimension) => a.every((exponent, i) => Math.abs(exponent - b[i]!) < 1e-9)

/** Arguments and result all in one unit. */
const alike: FormulaFunction['dimension'] = (args) => {
  const first = args[0]
  if (!first) return 'expects at least one argument'
  return args.every((one) => isSame(one, first)) ? first : 'expects arguments of one unit'
}

const plain: FormulaFunction['dimension'] = (args) =>
  args.length === 1 && args.every((one) => isSame(one, NONE)) ? NONE : 'expects one plain number'

const root: FormulaFunction['dimension'] = ([first, second]) =>
  first && !second ? (first.map((exponent) => exponent / 2) as unknown as Dimension) : 'expects one argument'

export const formulaFunctions: Record<string, FormulaFunction> = {
  abs: { run: Math.abs, dimension: alike },
  min: { run: Math.min, dimension: alike },
  max: { run: Math.max, dimension: alike },
  sum: { run: (...values) => values.reduce((total, one) => total + one, 0), dimension: alike },
  mean: {
    run: (...values) => values.reduce((total, one) => total + one, 0) / values.length,
    dimension: alike,
  },
  sqrt: { run: Math.sqrt, dimension: root },
  exp: { run: Math.exp, dimension: plain },
  ln: { run: Math.log, dimension: plain },
  log10: { run: Math.log10, dimension: plain },
  sin: { run: Math.sin, dimension: plain },
  cos: { run: Math.cos, dimension: plain },
  tan: { run: Math.tan, dimension: plain },
  acos: { run: Math.acos, dimension: plain },
}

/** A curve of the plant file as a function: straight lines between its points, NaN outside of them. */
export function interpolation(points: readonly (readonly [number, number])[]): FormulaFunction {
  return { run: (x = Number.NaN) => interpolate(points, x), dimension: plain }
}

function interpolate(points: readonly (readonly [number, number])[], x: number): number {
  const right = points.findIndex(([px]) => px >= x)
  if (right === -1 || Number.isNaN(x)) return Number.NaN
  const [x1, y1] = points[right]!
  if (x1 === x) return y1
  if (right === 0) return Number.NaN
  const [x0, y0] = points[right - 1]!
  return y0 + ((y1 - y0) * (x - x0)) / (x1 - x0)
}
