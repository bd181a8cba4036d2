/** Mean and scatter of a sample. */

/** Running mean and variance; one number at a time, nothing stored. */
export interface RunningSummary {
  add(value: number): void
  readonly count: number
  /** NaN before the first value. */
  readonly mean: number
  /** Sample variance with n − 1; NaN below two values. */
  readonly variance: number
  readonly deviation: number
}

/**
 * Mean and variance updated value by value:  M += (x − M)/n, S += (x − M_before)(x − M_after)
 *
 * @returns The running summary. A NaN makes it NaN for good: drop gaps before adding.
 *
 * Limits: none; keeps full precision when the mean is large against the scatter.
 * Example: 1e9+4, 1e9+7, 1e9+13, 1e9+16 → variance 30.
 * Source: Welford 1962, Technometrics 4:419.
 */
export function createRunningSummary(): RunningSummary {
  let count = 0
  let mean = 0
  let squares = 0
  const variance = () => (count > 1 ? squares / (count - 1) : Number.NaN)
  return {
    add(value) {
      count += 1
      const before = value - mean
      mean += before / count
      squares += before * (value - mean)
    },
    get count() {
      return count
    },
    get mean() {
      return count > 0 ? mean : Number.NaN
    },
    get variance() {
      return variance()
    },
    get deviation() {
      return Math.sqrt(variance())
    },
  }
}

/**
 * Mean, scatter and count of a whole sample, by `createRunningSummary`.
 *
 * @param values Sample.
 * @returns The summary of all values.
 *
 * Limits: as `createRunningSummary`.
 * Example: 1, 2, 3 → mean 2, deviation 1.
 * Source: Welford 1962, Technometrics 4:419.
 */
export function summarise(values: Iterable<number>): RunningSummary {
  const running = createRunningSummary()
  for (const value of values) running.add(value)
  return running
}

/**
 * Scatter from successive differences:  s = √(Σ(xᵢ₊₁ − xᵢ)²/(2(n − 1))). A slow drift hardly enters it.
 *
 * @param values Sample in time order.
 * @returns s in the unit of the values; NaN below two values.
 *
 * Limits: unbiased for independent readings; low when the sensor filters.
 * Example: 1, 3, 2, 4 → 1.2247.
 * Source: von Neumann et al. 1941, Ann. Math. Stat. 12:153 (from memory).
 */
export function successiveDeviation(values: readonly number[]): number {
  if (values.length < 2) return Number.NaN
  let sum = 0
  for (let i = 1; i < values.length; i++) sum += (values[i]! - values[i - 1]!) ** 2
  return Math.sqrt(sum / (2 * (values.length - 1)))
}

/**
 * Ratio of the scatter between neighbours to the scatter about the mean:  (Σ(xᵢ₊₁ − xᵢ)²/(n − 1))/s²
 *
 * @param values Sample in time order.
 * @returns About 2 for independent readings, towards 0 for drift, towards 4 for alternation. NaN without scatter.
 *
 * Limits: n ≥ 2; judge it from n ≥ 10.
 * Example: 1, 2, 3, 4 → 0.6.
 * Source: von Neumann 1941, Ann. Math. Stat. 12:367 (from memory).
 */
export function vonNeumannRatio(values: readonly number[]): number {
  const variance = summarise(values).variance
  return variance > 0 ? (2 * successiveDeviation(values) ** 2) / variance : Number.NaN
}
