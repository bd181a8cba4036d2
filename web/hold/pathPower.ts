import type { PathNode } from '../../server/wire/plant.ts'
import { largestOf } from '../plot/pathBands.ts'
import type { FigureHold, PlantHold } from './plantHold.ts'

/** Share of the rating below which a band gets no wider: at standstill, noise must not look like power. */
const LEAST_SCALE = 0.1

/**
 * Power [W] that is drawn full width: the largest of the whole path, so that branches compare with it, but
 * at least a tenth of the largest rating.
 */
export function largestPower({ view, byId }: PlantHold): number {
  const figures = view.path.map((step) => figureOf(step, byId))
  const rated = figures.map((figure) => LEAST_SCALE * (figure?.description.rated ?? 0))
  return largestOf([...figures.map(powerOf), ...rated])
}

export function figureOf(node: PathNode, byId: ReadonlyMap<string, FigureHold>): FigureHold | undefined {
  return node.figure === null ? undefined : byId.get(node.figure)
}

export function powerOf(figure: FigureHold | undefined): number | null {
  return figure?.value.value.value ?? null
}
