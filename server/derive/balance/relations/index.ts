import type { Relation } from '../relation.ts'
import { bus } from './bus.ts'
import { shaft } from './shaft.ts'
import { terminals } from './terminals.ts'
import { waterWay } from './waterWay.ts'

/** Every relation, along the way of the power; a plant gets those whose instruments and constants it has. */
export const relations: readonly Relation[] = [...waterWay, ...shaft, ...terminals, ...bus]
