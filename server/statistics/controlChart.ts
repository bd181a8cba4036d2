/** Control charts: small lasting shifts that single limits miss, such as a slow loss of efficiency. */

/**
 * One step of the exponentially weighted moving average:  z = λx + (1 − λ)z_before
 *
 * @param previous z before; the target at the start.
 * @param value x.
 * @param weight λ [–], 0 < λ ≤ 1, usually 0.2–0.3.
 * @returns z.
 *
 * Limits: none.
 * Example: 50, 52, 0.3 → 50.6.
 * Source: NIST/SEMATECH e-Handbook, 6.3.2.4.
 */
export function ewmaStep(previous: number, value: number, weight: number): number {
  return weight * value + (1 - weight) * previous
}

/** Where the chart is centred and how wide. */
export interface EwmaSettings {
  target: number
  /** Standard deviation of single values. */
  deviation: number
  /** λ [–]. */
  weight: number
  /** Width in standard deviations of z, usually 3. */
  width: number
}

/**
 * Limits of the moving average after many steps:  target ± k·s·√(λ/(2 − λ))
 *
 * @param settings Target, deviation, weight and width.
 * @returns Lower and upper limit.
 *
 * Limits: independent values; the first few steps have narrower true limits.
 * Example: 50, 2.0539, 0.3, 3 → 47.4116, 52.5884.
 * Source: NIST/SEMATECH e-Handbook, 6.3.2.4.
 */
export function ewmaLimits(settings: EwmaSettings): { low: number; high: number } {
  const { target, deviation, weight, width } = settings
  const half = width * deviation * Math.sqrt(weight / (2 - weight))
  return { low: target - half, high: target + half }
}

/** Both one-sided sums; start at 0 and 0. */
export interface CusumState {
  high: number
  low: number
}

/** Target and how much of each departure is forgiven, in the values' unit. */
export interface CusumSettings {
  target: number
  /** Half the shift to be found, k. */
  allowance: number
}

/**
 * One step of the two one-sided cumulative sums:  S = max(0, S_before ± (x − target) − k)
 *
 * @param state The sums before.
 * @param value x.
 * @param settings Target and allowance.
 * @returns The sums after; a signal is given by the caller when one exceeds its decision limit h. NaN for a NaN value.
 *
 * Limits: independent values.
 * Example: S_hi 3.0075, 327.25, target 325, k 0.3175 → 4.94.
 * Source: NIST/SEMATECH e-Handbook, 6.3.2.3.
 */
export function cusumStep(state: CusumState, value: number, settings: CusumSettings): CusumState {
  const departure = value - settings.target
  return {
    high: Math.max(0, state.high + departure - settings.allowance),
    low: Math.max(0, state.low - departure - settings.allowance),
  }
}
