import type { Dimension } from '../wire/units.ts'

export function isPlain(dimension: Dimension): boolean {
  return dimension.every((exponent) => exponent === 0)
}

export function equal(a: Dimension, b: Dimension): boolean {
  return a.every((exponent, i) => Math.abs(exponent - b[i]!) < 1e-9)
}

export function combine(a: Dimension, b: Dimension, sign: 1 | -1): Dimension {
  return a.map((exponent, i) => exponent + sign * b[i]!) as unknown as Dimension
}

export function scale(a: Dimension, factor: number): Dimension {
  return a.map((exponent) => exponent * factor) as unknown as Dimension
}

/** "m·s⁻¹" style, for messages. */
export function printDimension(dimension: Dimension): string {
  const names = ['m', 'kg', 's', 'A', 'K']
  const parts = dimension.flatMap((exponent, i) =>
    exponent === 0 ? [] : [exponent === 1 ? names[i]! : `${names[i]}^${Number(exponent.toFixed(3))}`],
  )
  return parts.length === 0 ? 'a plain number' : parts.join('·')
}
