import { amountWords } from '../plant/impossible.ts'
import type { Plant, PlantFault } from '../plant/plant.ts'
import { plain } from '../wire/numbers.ts'

/**
 * What a plant file says that can hardly be meant: its place, what stands there, and what would fit with the likely
 * slip. A plant may be odd, so a doubt is told and refuses nothing. What is impossible is a fault (plant/impossible.ts).
 */
export type Doubt = PlantFault

/** Looks at one thing in a plant file. */
export type Check = (facts: Facts) => Doubt[]

export interface Facts {
  plant: Plant
  /** A number of the plant file [SI]; NaN where it is not given, so that no comparison with it holds. */
  of(path: string): number
  /** The same as people write it. */
  words(path: string): string
  /** The doubt about a number of the plant file. */
  doubt(path: string, expected: string): Doubt[]
}

export const NO_DOUBT: Doubt[] = []

export function factsOf(plant: Plant): Facts {
  const of = (path: string) => plant.constants.get(path) ?? Number.NaN
  const words = (path: string) => amountWords(path, of(path))
  return { plant, of, words, doubt: (path, expected) => [{ path, received: words(path), expected }] }
}

/** False where it is not known. */
export function isOutside(value: number, [low, high]: readonly [number, number]): boolean {
  return value < low || value > high
}

/** Two significant digits: what is doubtful is not told to the last digit. */
export function rough(value: number): string {
  return plain(value, Math.abs(value) >= 100 && Math.abs(value) < 10_000 ? 3 : 2)
}

export function percent(share: number): string {
  return `${rough(100 * share)} %`
}

/** "45 % of it", or "1200 times as much" where a percentage tells nothing any more. */
export function partWords(share: number): string {
  return share < 10 ? `${percent(share)} of it` : `${rough(share)} times as much`
}

/** The slip that a ratio of what stands there to what would fit points to; nothing where it points to none. */
export function kiloSlip(ratio: number, fits: readonly [number, number]): string {
  const inside = (factor: number) => !isOutside(ratio * factor, fits) && ratio > 0
  if (inside(1000) || inside(1 / 1000)) return ' (a factor of 1000: kilo?)'
  return inside(1e6) || inside(1e-6) ? ' (a factor of a million: mega?)' : ''
}
