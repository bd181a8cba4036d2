import type { PathNode } from '../../server/wire/plant.ts'
import { largestOf } from '../plot/bandShares.ts'
import type { FigureHold, PlantHold } from './plantHold.ts'

/** Power [W] that is drawn full width: the largest of the whole path, so that branches compare with it. */
export function largestPower({ view, byId }: PlantHold): number {
  return largestOf(view.path.map((step) => powerOf(figureOf(step, byId))))
}

export function figureOf(node: PathNode, byId: ReadonlyMap<string, FigureHold>): FigureHold | undefined {
  return node.figure === null ? undefined : byId.get(node.figure)
}

export function powerOf(figure: FigureHold | undefined): number | null {
  return figure?.value.value.value ?? null
}
