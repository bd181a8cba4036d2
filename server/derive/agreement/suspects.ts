import { chiSquareQuantile } from '../../statistics/chiSquare.ts'
import { normalQuantile } from '../../statistics/normal.ts'
import { type Reconciliation, type ReconciliationInput, reconcile } from '../../statistics/reconciliation.ts'
import type { Cause, Explanation } from './causes.ts'

/** Chance that a plant whose instruments all keep to their class has anybody suspected, were all errors normal. */
const FALSE_ACCUSATION = 0.001
/**
 * Causes whose −2·ln(likelihood) is within this of the best explain the readings about as well: three standard
 * deviations. Whatever the distance of the true cause from another, it is left out in at most Φ(−3) = 0.13 % of cases.
 */
const NOT_TOLD_APART = 3 ** 2
/** A single cause leaves more than this only once in a thousand times. */
const EXPLAINED = 0.999

export interface Suspicion {
  /** Likeliest first; several when they cannot be told apart. */
  explanations: Explanation[]
  /** The best of them leaves no more than chance does. */
  isExplained: boolean
  /** The largest test, and how far it may go before anybody is suspected; in standard deviations. */
  largest: number
  threshold: number
}

export const NOBODY: Suspicion = {
  explanations: [],
  isExplained: true,
  largest: 0,
  threshold: Number.POSITIVE_INFINITY,
}

/**
 * Who explains the misfit. The largest of n normal deviates is held against the level that it passes by chance
 * once in 1000 times (Šidák); then every cause is weighed, and whoever explains the readings about as well as the best
 * is named too.
 *
 * Source: Narasimhan & Jordache, ch. 7, generalised likelihood ratio with simultaneous level (from memory).
 *
 * @param explain Weighs all causes; asked only when there is something to explain.
 */
export function findSuspects(result: Reconciliation, explain: () => Explanation[]): Suspicion {
  const tests = [...result.measurementTests, ...result.relationTests]
  const tested = tests.filter((test) => test !== 0).length
  const threshold = normalQuantile(1 - (1 - (1 - FALSE_ACCUSATION) ** (1 / Math.max(1, tested))) / 2)
  const largest = Math.max(0, ...tests.map(Math.abs))
  if (largest < threshold) return { ...NOBODY, largest, threshold }
  const explanations = explain().sort((a, b) => a.deviance - b.deviance)
  const best = explanations[0]
  return {
    explanations: explanations.filter(({ deviance }) => deviance - best!.deviance <= NOT_TOLD_APART),
    isExplained:
      best !== undefined && best.misfit <= chiSquareQuantile(EXPLAINED, result.relationTests.length - 1),
    largest,
    threshold,
  }
}

/** In standard uncertainties of each reading's own class. */
export interface ReadingFit {
  corrections: number[]
  remaining: number[]
}

/** What is suspected says nothing: its standard uncertainty is taken as this many times its own. */
const UNTOLD = 1000
/** A set of its own. */
const ALONE = -1

/** Positions of what a cause leaves without a say: among the measurements, then among the relations. */
export function untoldBy(cause: Cause | undefined, measurements: number): number[] {
  if (!cause) return []
  if (cause.kind === 'relation') return [measurements + cause.place]
  return cause.kind === 'swapped' ? [...cause.leaves] : [cause.leaf]
}

/**
 * The readings that fit all relations best. A gross error would be smeared over its neighbours, so the likeliest
 * suspect is left out: its value then follows from the others alone.
 *
 * @param untold Who is left out: positions among the measurements, then among the relations.
 */
export function fitReadings(input: ReconciliationInput, untold: readonly number[]): ReadingFit | undefined {
  const { contributions, ownVariances } = input
  const sets = input.sets?.map((set, j) => (untold.includes(j) ? ALONE - j : set))
  const measurements = contributions[0]?.length ?? 0
  const weight = (j: number) => (untold.includes(j) ? UNTOLD : 1)
  const result = reconcile({
    ...input,
    ...(sets ? { sets } : {}),
    contributions: contributions.map((row) => Float64Array.from(row, (part, j) => part * weight(j))),
    ownVariances: ownVariances.map((variance, i) => variance * weight(measurements + i) ** 2),
  })
  return (
    result && {
      corrections: result.corrections.map((one, j) => one * weight(j)),
      remaining: result.remaining.map((one, j) => one * weight(j)),
    }
  )
}
