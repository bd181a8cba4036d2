import { expandTypes } from '../statistics/uncertainty.ts'
import type { Quality } from '../wire/figure.ts'
import type { Evaluator } from './evaluate.ts'
import { nodeOf, type Plan } from './plan.ts'

const NO_SCATTER = { standard: 0, freedom: 1 }

/** Live figures by name, for everything that is not a formula. */
export interface FigureLookupById {
  /** SI value; NaN when the plant has no such figure or it cannot be given, or its input is bad. */
  value(figure: string): number
  /** Value as a share of the rated value; NaN where there is no rating. */
  share(figure: string): number
  quality(figure: string): Quality
  /** Half-width of the 95 % interval in SI; 0 where none can be given. */
  u95(figure: string): number
  /** The part of that which stays as time goes on, since it is of instruments and constants; NaN where none can be given. */
  systematic95(figure: string): number
  /** Time of measurement [ms UTC]; NaN before the first. */
  at(figure: string): number
  /** What an instrument reads beyond its range [SI], though that is bad: worse than the range can tell, or a fault; NaN inside. */
  beyondRange(figure: string): number
  has(figure: string): boolean
  /** Longest time [ms] without a new value before it counts as stale. */
  staleAfterMs(figure: string): number
  /** False for a figure that comes straight from an instrument. */
  isDerived(figure: string): boolean
}

export function createLookup(plan: Plan, evaluator: Evaluator): FigureLookupById {
  const index = (figure: string) => plan.indexOf.get(figure) ?? -1
  const value = (figure: string) => {
    const i = index(figure)
    return i < 0 || evaluator.quality(i) === 'bad' ? Number.NaN : evaluator.value(i)
  }
  const u95 = (figure: string) => (index(figure) < 0 ? 0 : (evaluator.view(index(figure)).u95 ?? 0))
  return {
    value,
    share: (figure) => value(figure) / (nodeOf(plan, figure)?.description.rated ?? Number.NaN),
    quality: (figure) => (index(figure) < 0 ? 'bad' : evaluator.quality(index(figure))),
    u95,
    systematic95: (figure) =>
      u95(figure) > 0 ? expandTypes(NO_SCATTER, evaluator.systematic(index(figure))) : Number.NaN,
    at: (figure) => (index(figure) < 0 ? Number.NaN : evaluator.at(index(figure))),
    beyondRange(figure) {
      const { low = Number.NaN, high = Number.NaN } = nodeOf(plan, figure)?.description ?? {}
      const read = index(figure) < 0 ? Number.NaN : evaluator.value(index(figure))
      return read < low || read > high ? read : Number.NaN
    },
    has: (figure) => index(figure) >= 0,
    staleAfterMs: (figure) => nodeOf(plan, figure)?.description.staleAfterMs ?? Number.POSITIVE_INFINITY,
    isDerived: (figure) => nodeOf(plan, figure)?.kind !== 'measured',
  }
}
