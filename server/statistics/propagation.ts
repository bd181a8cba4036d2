/** Propagation of uncertainty through a formula, first order, with or without correlation. */

/** Any formula of several inputs. */
export type Model = (inputs: readonly number[]) => number

/**
 * Change of the result when each input moves by its uncertainty:  Zᵢ = ½(f(xᵢ + uᵢ) − f(xᵢ − uᵢ))
 *
 * @param model The formula f.
 * @param inputs Values xᵢ.
 * @param uncertainties Standard uncertainties uᵢ, same order.
 * @returns Zᵢ = cᵢ·uᵢ with sign, in the result's unit. 0 where uᵢ is 0. NaN where f has no value at xᵢ ± uᵢ.
 * @throws {RangeError} when the lengths differ: a programming error.
 *
 * Limits: f nearly straight over ± uᵢ.
 * Example: x·y at 2 ± 0.1, 3 ± 0.2 → 0.3, 0.4.
 * Source: JCGM 100:2008, 5.1.3 note 2.
 */
export function contributionsOf(
  model: Model,
  inputs: readonly number[],
  uncertainties: readonly number[],
): number[] {
  if (inputs.length !== uncertainties.length) {
    throw new RangeError(`contributionsOf: ${inputs.length} inputs but ${uncertainties.length} uncertainties`)
  }
  return inputs.map((_, index) => {
    const u = uncertainties[index]!
    if (u === 0) return 0
    const moved = (by: number) => model(inputs.map((x, i) => (i === index ? x + by : x)))
    return (moved(u) - moved(-u)) / 2
  })
}

/**
 * Combined uncertainty of correlated inputs:  u_c² = ΣᵢΣⱼ Zᵢ·Zⱼ·r(xᵢ, xⱼ)
 *
 * @param contributions Zᵢ with sign, from `contributionsOf`.
 * @param correlations r(xᵢ, xⱼ), square and symmetric with ones on the diagonal.
 * @returns u_c in the result's unit. NaN when the correlations contradict each other (u_c² < 0 beyond rounding).
 * @throws {RangeError} when the matrix does not fit: a programming error.
 *
 * Limits: first order. Feed full-precision u and r: rounded ones shift GUM H.2 by 1.5 %.
 * Example: 0.3, 0.4 with r = 1 → 0.7.
 * Source: JCGM 100:2008, 5.2.2, equation 16.
 */
export function combineCorrelated(
  contributions: readonly number[],
  correlations: readonly (readonly number[])[],
): number {
  const variance = covarianceOf(contributions, contributions, correlations)
  const scale = contributions.reduce((sum, z) => sum + z * z, 0)
  return Math.abs(variance) <= 1e-14 * scale ? 0 : Math.sqrt(variance)
}

/**
 * Covariance of two results of the same inputs:  u(y, z) = ΣᵢΣⱼ Yᵢ·Zⱼ·r(xᵢ, xⱼ)
 *
 * @param first Contributions to y, with sign.
 * @param second Contributions to z, with sign.
 * @param correlations r(xᵢ, xⱼ), square and symmetric with ones on the diagonal.
 * @returns u(y, z), unit of y times unit of z. Over u(y)·u(z) it is the correlation of the results.
 * @throws {RangeError} when the sizes do not fit: a programming error.
 *
 * Limits: first order.
 * Example: GUM H.2, R and X → r = −0.588.
 * Source: JCGM 100:2008, F.1.2.3 and H.2.3.
 */
export function covarianceOf(
  first: readonly number[],
  second: readonly number[],
  correlations: readonly (readonly number[])[],
): number {
  const size = correlations.length
  if (first.length !== size || second.length !== size || correlations.some((row) => row.length !== size)) {
    throw new RangeError(`covarianceOf: ${first.length} and ${second.length} contributions, ${size} rows`)
  }
  let sum = 0
  correlations.forEach((row, i) => {
    row.forEach((r, j) => {
      sum += first[i]! * second[j]! * r
    })
  })
  return sum
}

/**
 * Correlation of two samples taken together:  r = Σ(xᵢ − x̄)(yᵢ − ȳ)/√(Σ(xᵢ − x̄)²·Σ(yᵢ − ȳ)²)
 *
 * @param first x, in the order of taking.
 * @param second y, same length.
 * @returns r [–], also of the two means. NaN when one sample does not vary.
 * @throws {RangeError} when the lengths differ: a programming error.
 *
 * Limits: two readings and more.
 * Example: 1, 2, 3 with 2, 4, 7 → 0.9934.
 * Source: JCGM 100:2008, 5.2.3, equation 17.
 */
export function correlation(first: readonly number[], second: readonly number[]): number {
  if (first.length !== second.length) {
    throw new RangeError(`correlation: ${first.length} and ${second.length} readings`)
  }
  const meanOf = (values: readonly number[]) => values.reduce((sum, v) => sum + v, 0) / values.length
  const [mx, my] = [meanOf(first), meanOf(second)]
  let [sxy, sxx, syy] = [0, 0, 0]
  first.forEach((x, i) => {
    const [dx, dy] = [x - mx, second[i]! - my]
    sxy += dx * dy
    sxx += dx * dx
    syy += dy * dy
  })
  return sxx === 0 || syy === 0 ? Number.NaN : sxy / Math.sqrt(sxx * syy)
}
