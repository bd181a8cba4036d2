import type { LivePlant } from '../../livePlant.ts'
import { effectiveCount } from '../../statistics/autocorrelation.ts'
import { expandUncertainty } from '../../statistics/uncertainty.ts'
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
  live: LivePlant,
): PointFigure | undefined {
  const known = values.filter((value) => !Number.isNaN(value))
  if (known.length < 3) return undefined
  const index = live.plan.indexOf.get(id)!
  const { mean, deviation } = lineOf(known)
  const worth = effectiveCount(known)
  const typeA = deviation / Math.sqrt(worth)
  const contributions = contributionsOf(live, index)
  const typeB = Math.hypot(...Object.values(contributions))
  const parts = [
    { uncertainty: typeA, degreesOfFreedom: Math.max(1, worth - 1) },
    { uncertainty: typeB, degreesOfFreedom: Number.POSITIVE_INFINITY },
  ].filter((part) => part.uncertainty > 0)
  const u95 = parts.length === 0 ? 0 : expandUncertainty(parts, 0.95).expanded
  return { id, mean, deviation, effectiveCount: worth, typeA, typeB, u95, contributions }
}

/** By instrument; those of one calibration err together and count as one. */
function contributionsOf({ plan, evaluator }: LivePlant, index: number): Record<string, number> {
  const shares = evaluator.contributions(index)
  const bySource: Record<string, number> = {}
  for (const [leaf, { id, accuracy }] of plan.plant.instruments.entries()) {
    if (shares[leaf] === 0) continue
    const source = accuracy?.calibration ?? id
    bySource[source] = (bySource[source] ?? 0) + shares[leaf]!
  }
  return bySource
}
