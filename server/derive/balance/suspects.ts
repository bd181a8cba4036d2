import { normalQuantile } from '../../statistics/normal.ts'
import type { Reconciliation } from '../../statistics/reconciliation.ts'

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
