import { normalQuantile } from '../../statistics/normal.ts'
import { type Reconciliation, type ReconciliationInput, reconcile } from '../../statistics/reconciliation.ts'

/** Chance that a plant whose instruments all keep to their class has anybody suspected. */
const FALSE_ACCUSATION = 0.005
/** Hypotheses whose log likelihood is within this of the best explain the readings about as well. */
const NOT_TOLD_APART = 4

/**
 * An instrument whose uncertainty the relations reduce by less than 1 % is not seen by them: it would have to be
 * out by many times its class to explain anything.
 */
export const HARDLY_SEEN = 0.99

export interface Suspicion {
  /** Index among the instruments, then among the relations; likeliest first. */
  candidates: number[]
  threshold: number
}

/**
 * Who explains the misfit. The largest of n normal deviates is held against the level that it passes by chance
 * once in 200 times (Šidák); whoever explains it within 4 units of −2·log likelihood of the best is named too.
 *
 * Source: Narasimhan & Jordache, ch. 7, generalised likelihood ratio with simultaneous level (from memory).
 */
export function findSuspects(result: Reconciliation): Suspicion {
  const tests = [
    ...result.measurementTests.map((test, i) => (result.remaining[i]! < HARDLY_SEEN ? test : 0)),
    ...result.relationTests,
  ]
  const tested = tests.filter((test) => test !== 0).length
  const threshold = normalQuantile(1 - (1 - (1 - FALSE_ACCUSATION) ** (1 / Math.max(1, tested))) / 2)
  const order = tests.map((_, i) => i).sort((a, b) => Math.abs(tests[b]!) - Math.abs(tests[a]!))
  const best = Math.abs(tests[order[0] ?? 0] ?? 0)
  if (best < threshold) return { candidates: [], threshold }
  return { candidates: order.filter((i) => best ** 2 - tests[i]! ** 2 <= NOT_TOLD_APART), threshold }
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

/**
 * The readings that fit all relations best. A gross error would be smeared over its neighbours, so the likeliest
 * suspect is left out: its value then follows from the others alone.
 *
 * @param suspect Index among the measurements, then among the relations; undefined when nobody is suspected.
 */
export function fitReadings(input: ReconciliationInput, suspect: number | undefined): ReadingFit | undefined {
  const { contributions, ownVariances } = input
  const sets = input.sets?.map((set, j) => (j === suspect ? ALONE : set))
  const measurements = contributions[0]?.length ?? 0
  const weight = (j: number) => (j === suspect ? UNTOLD : 1)
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
