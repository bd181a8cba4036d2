import { instrumentUncertainty } from '../../derive/instrumentUncertainty.ts'
import type { FigurePlant } from '../../mirror/shownPlant.ts'
import { effectiveCount } from '../../statistics/autocorrelation.ts'
import { expandTypes } from '../../statistics/uncertainty.ts'
import type { PointFigure } from '../../wire/point.ts'
import { lineOf } from './steadiness.ts'

/**
 * Mean of a figure over a window: type A is s/√n_eff of independent readings, type B what the instruments' accuracy
 * allows, which no averaging reduces. The interval is made of them as a live figure's is.
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
  const systematic = live.evaluator.systematic(index)
  const u95 = expandTypes({ standard: typeA, freedom: worth - 1 }, systematic)
  const typeB = systematic.standard
  return { id, mean, deviation, effectiveCount: worth, typeA, typeB, u95, ...contributionsOf(live, index) }
}

/** Parts of a figure's type B by instrument; those of one calibration err together and count as one. */
export function contributionsOf(
  { plan, evaluator }: Pick<FigurePlant, 'plan' | 'evaluator'>,
  index: number,
): Required<Pick<PointFigure, 'contributions' | 'rectangular'>> {
  const parts = evaluator.contributions(index)
  const contributions: Record<string, number> = {}
  const flat: Record<string, number> = {}
  for (const [leaf, instrument] of plan.plant.instruments.entries()) {
    const part = parts[leaf]!
    if (part === 0) continue
    const source = instrument.accuracy?.calibration ?? instrument.id
    contributions[source] = (contributions[source] ?? 0) + part
    const { limits, resolution, isRectangular } = instrumentUncertainty(instrument, evaluator.value(leaf))
    if (isRectangular && limits > 0)
      flat[source] = (flat[source] ?? 0) + (part * limits) / Math.hypot(limits, resolution)
  }
  const rectangular = Object.fromEntries(Object.entries(flat).map(([id, part]) => [id, Math.abs(part)]))
  return { contributions, rectangular }
}
