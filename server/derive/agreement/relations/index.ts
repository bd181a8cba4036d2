import type { Plant } from '../../../plant/plant.ts'
import type { Relation } from '../relation.ts'
import { bus } from './bus.ts'
import { shaft } from './shaft.ts'
import { terminals } from './terminals.ts'
import { waterWay } from './waterWay.ts'

/** Every relation, along the way of the power; a plant gets those whose instruments and constants it has. */
export const relations: readonly Relation[] = [...waterWay, ...shaft, ...terminals, ...bus]

/** The relations whose instruments a plant has; whether their constants are given is for the plan to say. */
export function relationsOf(plant: Plant): Relation[] {
  const measured = new Set(plant.instruments.map((one) => one.quantity))
  return relations.filter(({ needs }) => needs.every((quantity) => measured.has(quantity)))
}
