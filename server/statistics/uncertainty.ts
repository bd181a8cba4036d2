/** Standard uncertainties, their combination and coverage, after the GUM (JCGM 100:2008). */
import { coverageFactor95 } from './coverageFactor.ts'

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
 * @returns ν_eff, not rounded. Infinity when no contribution is in doubt.
 *
 * Limits: uncorrelated inputs.
 * Example: 0.25, 0.57, 0.82 with 9, 4, 14 → 18.9987.
 * Source: JCGM 100:2008, G.4.1, equation G.2b (Welch–Satterthwaite).
 */
export function effectiveDegreesOfFreedom(contributions: readonly Contribution[]): number {
  const combined = combineUncertainties(contributions.map((c) => c.uncertainty))
  return combined ** 4 / contributions.reduce((sum, c) => sum + c.uncertainty ** 4 / c.degreesOfFreedom, 0)
}

/** What instruments are off by, of which averaging takes nothing away. */
export interface Systematic {
  /** u_B, all of it. */
  standard: number
  /** Its two largest rectangular parts, as standard uncertainties; 0 where there are none. */
  widest: readonly [first: number, second: number]
}

/** One independent part of type B, and how much of it has rectangular limits. */
export interface SystematicPart {
  standard: number
  rectangular: number
}

/**
 * Independent parts together:  u_B = √Σuᵢ², and the two that stand out by their shape.
 *
 * @param parts Of either sign; all in one unit.
 * @returns u_B with its two largest rectangles.
 *
 * Limits: uncorrelated parts, rectangular ≤ standard.
 * Example: 3 and 4, both rectangular → 5 with 4 and 3.
 * Source: JCGM 100:2008, 5.1.2.
 */
export function systematicOf(parts: readonly SystematicPart[]): Systematic {
  const [first = 0, second = 0] = parts.map((part) => Math.abs(part.rectangular)).sort((a, b) => b - a)
  return { standard: combineUncertainties(parts.map((part) => part.standard)), widest: [first, second] }
}

/**
 * Half-width of the 95 % interval of a result with scatter and instruments:  U = k·√(u_A² + u_B²), with the k that live
 * figures have (`coverageFactor95`): ν_eff of both, and rectangles as what they are.
 *
 * @param typeA u_A, standard uncertainty from scatter, and its degrees of freedom.
 * @param typeB u_B, from the limits of the instruments, which are certain (ν = ∞).
 * @returns U in the unit of both; 0 where neither is there.
 *
 * Limits: uncorrelated inputs.
 * Example: scatter of 1 with 19 and nothing else → 2.0930; limits of ±1 alone → 0.95.
 * Source: JCGM 100:2008, 4.3.7, G.4 and table G.2; JCGM 101:2008 for the rectangles.
 */
export function expandTypes(typeA: { standard: number; freedom: number }, typeB: Systematic): number {
  const u = Math.hypot(typeA.standard, typeB.standard)
  if (!(u > 0)) return u
  const freedom = typeA.standard === 0 ? Number.POSITIVE_INFINITY : typeA.freedom * (u / typeA.standard) ** 4
  const [first, second] = typeB.widest
  return u * coverageFactor95(freedom, first / u, second / u)
}
