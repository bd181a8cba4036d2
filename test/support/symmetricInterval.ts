import { quantileInterpolated } from '../../server/statistics/quantiles.ts'

/** Ends of a coverage interval. */
export interface Interval {
  low: number
  high: number
}

/**
 * Probabilistically symmetric interval of a sample of estimates.
 *
 * @param estimates Draws, any order.
 * @param probability p [–], e.g. 0.95.
 * @returns Quantiles at (1 − p)/2 and (1 + p)/2; NaN for no estimates.
 *
 * Limits: 1000 draws and more for 0.95.
 * Example: 95 % of four summed N(0, 1) → ±3.92.
 * Source: JCGM 101:2008, 7.7.
 */
export function symmetricInterval(estimates: readonly number[], probability: number): Interval {
  return {
    low: quantileInterpolated(estimates, (1 - probability) / 2),
    high: quantileInterpolated(estimates, (1 + probability) / 2),
  }
}
