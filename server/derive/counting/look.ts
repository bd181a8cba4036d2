import type { Plant } from '../../plant/plant.ts'
import type { FigureLookupById } from '../lookup.ts'
import { isOf, isSet } from './conditions.ts'
import type { Look } from './kind.ts'

/** What counters look at: figures, constants and families of states. */
export function createLook(figures: FigureLookupById, plant: Plant, ids: readonly string[]): Look {
  const { value, share, has } = figures
  return {
    ...{ value, share, has },
    constant: (path) => plant.constants.get(path) ?? Number.NaN,
    any: (family) => anyOf(ids, family, value),
  }
}

/** The same with one value as it was just read, before the figures are brought up to it. */
export function withReading(
  look: Look,
  { quantity, value: read }: { quantity: string; value: number },
  { ids, rated }: { ids: readonly string[]; rated: number },
): Look {
  const value = (figure: string) => (figure === quantity ? read : look.value(figure))
  return {
    ...look,
    value,
    share: (figure) => (figure === quantity ? read / rated : look.share(figure)),
    any: (family) => anyOf(ids, family, value),
  }
}

function anyOf(
  ids: readonly string[],
  family: string,
  value: (figure: string) => number,
): boolean | undefined {
  const states = ids.filter((id) => isOf(family, id)).map((id) => isSet(value(id)))
  return states.includes(true) ? true : states.find((state) => state !== undefined)
}
