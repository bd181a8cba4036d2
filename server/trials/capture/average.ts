import type { FigurePlant } from '../../mirror/shownPlant.ts'
import { effectiveCount } from '../../statistics/autocorrelation.ts'
import { expandTypes } from '../../statistics/uncertainty.ts'
import type { PointFigure } from '../../wire/point.ts'
import { lineOf } from './steadiness.ts'

/**
 * Mean of a figure over a window: type A is s/√n_eff of independent readings, type B what the instruments' accuracy
 * allows, which no averaging reduces.
 *
 * Source: JCGM 100:2008, 4.2.3, 4.3 and G.4.
 */
export function averageFigure(
  id: string,
  values: readonly number[],
  live: FigurePlant,
): PointFigure | undefined {
  const known = values.filter((value) => !Number.isNaN(value))
  if (known.length < 3) return undefined
  const index = live.plan.indexOf.get(id)!
  const { mean, deviation } = lineOf(known)
  const worth = effectiveCount(known)
  const typeA = deviation / Math.sqrt(worth)
  const contributions = contributionsOf(live, index)
  const typeB = Math.hypot(...Object.values(contributions))
  const u95 = expandTypes(typeA, typeB, Math.max(1, worth - 1))
  return { id, mean, deviation, effectiveCount: worth, typeA, typeB, u95, contributions }
}

/** Parts of a figure's type B by instrument; those of one calibration err together and count as one. */
export function contributionsOf(
  { plan, evaluator }: Pick<FigurePlant, 'plan' | 'evaluator'>,
  index: number,
): Record<string, number> {
  const parts = evaluator.contributions(index)
  const bySource: Record<string, number> = {}
  for (const [leaf, { id, accuracy }] of plan.plant.instruments.entries()) {
    if (parts[leaf] === 0) continue
    const source = accuracy?.calibration ?? id
    bySource[source] = (bySource[source] ?? 0) + parts[leaf]!
  }
  return bySource
}
