/** Standard uncertainties, their combination and coverage, after the GUM (JCGM 100:2008). */
import { studentQuantile } from './studentT.ts'

/**
 * Root of the sum of squares of uncorrelated contributions:  u = √Σuᵢ²
 *
 * @param contributions Each uᵢ = |cᵢ|·u(xᵢ), one unit for all (or all relative, for products and quotients).
 * @returns Combined standard uncertainty; NaN if any is missing.
 *
 * Limits: uncorrelated inputs; otherwise `combineCorrelated` in propagation.ts.
 * Example: 25, 9.7, 2.9, 16.6 → 31.67.
 * Source: JCGM 100:2008, 5.1.2, equation 10.
 */
export function combineUncertainties(contributions: readonly number[]): number {
  return Math.sqrt(contributions.reduce((sum, u) => sum + u * u, 0))
}

/** One line of an uncertainty budget. */
export interface Contribution {
  /** |cᵢ|·u(xᵢ), in the result's unit. */
  uncertainty: number
  /** n − 1 for type A; Infinity where the limits are certain. */
  degreesOfFreedom: number
}

/**
 * Effective degrees of freedom:  ν_eff = u_c⁴/Σ(uᵢ⁴/νᵢ)
 *
 * @param contributions The uncorrelated contributions.
 * @returns ν_eff, not rounded; the tables use it rounded down. Infinity when no contribution is in doubt.
 *
 * Limits: uncorrelated inputs.
 * Example: 0.25, 0.57, 0.82 with 9, 4, 14 → 18.9987.
 * Source: JCGM 100:2008, G.4.1, equation G.2b (Welch–Satterthwaite).
 */
export function effectiveDegreesOfFreedom(contributions: readonly Contribution[]): number {
  const combined = combineUncertainties(contributions.map((c) => c.uncertainty))
  return combined ** 4 / contributions.reduce((sum, c) => sum + c.uncertainty ** 4 / c.degreesOfFreedom, 0)
}

/** A result's uncertainty, ready to be stated. */
export interface ExpandedUncertainty {
  standard: number
  degreesOfFreedom: number
  coverageFactor: number
  expanded: number
}

/**
 * Expanded uncertainty of a budget:  U = k·u_c, k = t_p(⌊ν_eff⌋)
 *
 * @param contributions The uncorrelated contributions.
 * @param probability p [–], e.g. 0.95.
 * @returns u_c, ν_eff (not rounded), k for ν_eff rounded down, and U.
 *
 * Limits: uncorrelated inputs, result close to normal. ν_eff below 1 is used as it is.
 * Example: GUM H.1 at 0.99 → U = 92.5 nm, printed 93.
 * Source: JCGM 100:2008, G.4 and G.6.4.
 */
export function expandUncertainty(
  contributions: readonly Contribution[],
  probability: number,
): ExpandedUncertainty {
  const standard = combineUncertainties(contributions.map((c) => c.uncertainty))
  const degreesOfFreedom = effectiveDegreesOfFreedom(contributions)
  const rounded = degreesOfFreedom >= 1 ? Math.floor(degreesOfFreedom) : degreesOfFreedom
  const factor = studentQuantile(probability, rounded)
  return { standard, degreesOfFreedom, coverageFactor: factor, expanded: factor * standard }
}

/**
 * Half-width of the 95 % interval of a result with scatter and instruments:  U = k·√(u_A² + u_B²), k of ν_eff.
 *
 * @param typeA u_A, standard uncertainty from scatter.
 * @param typeB u_B, from the limits of the instruments, which are certain (ν = ∞).
 * @param freedom ν of type A.
 * @returns U in the unit of both; 0 where neither is there.
 *
 * Limits: uncorrelated inputs, result close to normal.
 * Example: 1, 0 with 19 → 2.0930.
 * Source: JCGM 100:2008, 4.3.7, G.4 and table G.2.
 */
export function expandTypes(typeA: number, typeB: number, freedom: number): number {
  const parts = [
    { uncertainty: typeA, degreesOfFreedom: freedom },
    { uncertainty: typeB, degreesOfFreedom: Number.POSITIVE_INFINITY },
  ].filter((part) => part.uncertainty !== 0)
  return parts.length === 0 ? 0 : expandUncertainty(parts, 0.95).expanded
}
