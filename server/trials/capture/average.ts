import { instrumentUncertainty } from '../../derive/instrumentUncertainty.ts'
import type { FigurePlant } from '../../mirror/shownPlant.ts'
import { effectiveCount } from '../../statistics/autocorrelation.ts'
import { expandTypes } from '../../statistics/uncertainty.ts'
import type { PointFigure } from '../../wire/point.ts'
import { constantSource } from '../constants.ts'
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

/**
 * Parts of a figure's type B by instrument and by constant that errs; those of one calibration err together and count as
 * one. A constant errs alike at every point, as an instrument does.
 */
export function contributionsOf(
  { plan, evaluator }: Pick<FigurePlant, 'plan' | 'evaluator'>,
  index: number,
): Required<Pick<PointFigure, 'contributions' | 'rectangular'>> {
  const contributions: Record<string, number> = {}
  const flat: Record<string, number> = {}
  const add = (source: string, part: number, flatPart: number) => {
    if (part === 0) return
    contributions[source] = (contributions[source] ?? 0) + part
    if (flatPart !== 0) flat[source] = (flat[source] ?? 0) + flatPart
  }
  const parts = evaluator.contributions(index)
  for (const [leaf, instrument] of plan.plant.instruments.entries()) {
    const part = parts[leaf]!
    const { limits, resolution, isRectangular } = instrumentUncertainty(instrument, evaluator.value(leaf))
    const isFlat = isRectangular && limits > 0
    const flatPart = isFlat ? (part * limits) / Math.hypot(limits, resolution) : 0
    add(instrument.accuracy?.calibration ?? instrument.id, part, flatPart)
  }
  const constants = evaluator.constantParts(index)
  for (const [i, { path, error }] of plan.doubtful.entries())
    add(error.calibration ?? constantSource(path), constants[i]!, error.isRectangular ? constants[i]! : 0)
  const rectangular = Object.fromEntries(Object.entries(flat).map(([id, part]) => [id, Math.abs(part)]))
  return { contributions, rectangular }
}
