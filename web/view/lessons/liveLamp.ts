import type { SteadyLamp } from '../../../server/wire/lesson.ts'
import type { PlantHold } from '../../hold/plantHold.ts'

/** As server/derive/storageWatch.ts begins its sentences. */
const NOT_STEADY = 'not steady'

/**
 * Whether energy goes into or out of storage, by what the figures themselves say; null at a plant without figures that
 * could tell. A lesson has its own, stricter watch.
 */
export function liveLamp({ byId, figures }: PlantHold): SteadyLamp | null {
  const judged = ['turbineEfficiency', 'plantEfficiency'].flatMap((id) => byId.get(id) ?? [])
  if (judged.length === 0) return null
  const reason = figures.flatMap(({ value }) => value.value.reasons).find((one) => one.includes(NOT_STEADY))
  if (reason) return { state: 'hold', sentence: `${reason[0]!.toUpperCase()}${reason.slice(1)}.` }
  if (judged.every(({ value }) => value.value.value === null))
    return { state: 'unknown', sentence: 'The efficiency is not known.' }
  return { state: 'steady', sentence: 'Steady enough for an efficiency.' }
}
