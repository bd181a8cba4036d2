import type { Plant } from '../../plant/plant.ts'
import type { FigureLookupById } from '../lookup.ts'
import { isOf, isSet } from './conditions.ts'
import type { Look } from './kind.ts'

/** What counters look at: figures, constants and families of states. */
export function createLook(figures: FigureLookupById, plant: Plant, ids: readonly string[]): Look {
  const { value, share, has } = figures
  const families = new Map<string, string[]>()

  /** Found once, for it is asked for on every tick. */
  function familyOf(family: string): string[] {
    const known = families.get(family) ?? ids.filter((id) => isOf(family, id))
    families.set(family, known)
    return known
  }

  return {
    value,
    share,
    has,
    constant: (path) => plant.constants.get(path) ?? Number.NaN,
    any: (family, read = value) => anyOf(familyOf(family), read),
  }
}

/** The same with one value as it was just read, before the figures are brought up to it. */
export function withReading(look: Look, read: { quantity: string; value: number; rated: number }): Look {
  const value = (figure: string) => (figure === read.quantity ? read.value : look.value(figure))
  return {
    ...look,
    value,
    share: (figure) => (figure === read.quantity ? read.value / read.rated : look.share(figure)),
    any: (family) => look.any(family, value),
  }
}

function anyOf(ids: readonly string[], value: (figure: string) => number): boolean | undefined {
  let known: boolean | undefined
  for (const id of ids) {
    const state = isSet(value(id))
    if (state === true) return true
    known = state ?? known
  }
  return known
}
