/** How much readings that follow each other repeat what is known already. */

/**
 * Number of independent readings that a sample is worth:  n_eff = n/(1 + 2·Σρ_k), Σ over the first lags as long as
 * the correlation ρ_k stays positive and k ≤ n/4.
 *
 * @param values Sample in time order, evenly spaced.
 * @returns n_eff [–], from 1 to n; n for a sample without scatter. Alternation counts as independence.
 *
 * Limits: the lags need n ≥ 20 or so; slow movement must have been ruled out before.
 * Example: readings with correlation φ from one to the next are worth n(1 − φ)/(1 + φ).
 * Source: Bayley & Hammersley 1946, J. R. Stat. Soc. Suppl. 8:184 (from memory); sum ended as in Geyer 1992.
 */
export function effectiveCount(values: readonly number[]): number {
  const count = values.length
  const mean = values.reduce((sum, value) => sum + value, 0) / count
  const apart = values.map((value) => value - mean)
  const variance = lagged(apart, 0)
  if (!(variance > 0)) return count
  let sum = 0
  for (let lag = 1; lag <= count / 4; lag++) {
    const correlation = lagged(apart, lag) / variance
    if (correlation <= 0) break
    sum += correlation
  }
  return Math.max(1, count / (1 + 2 * sum))
}

function lagged(apart: readonly number[], lag: number): number {
  let sum = 0
  for (let i = lag; i < apart.length; i++) sum += apart[i]! * apart[i - lag]!
  return sum
}
