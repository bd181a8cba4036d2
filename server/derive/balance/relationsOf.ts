import type { Plant } from '../../plant/plant.ts'
import type { Relation } from './relation.ts'
import { relations } from './relations/index.ts'

/** The relations whose instruments a plant has; whether their constants are given is for the plan to say. */
export function relationsOf(plant: Plant): Relation[] {
  const measured = new Set(plant.instruments.map((one) => one.quantity))
  return relations.filter(({ needs }) => needs.every((quantity) => measured.has(quantity)))
}
