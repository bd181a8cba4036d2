/** Steady-state detection by the ratio of two variance estimates. */

/** Filter weights, each 0 < λ < 1. Smaller: surer and slower. */
export interface SteadinessWeights {
  /** λ₁, filtered value. */
  mean: number
  /** λ₂, variance about the filtered value. */
  spread: number
  /** λ₃, variance of successive differences. */
  difference: number
}

/** What the detector remembers. */
export interface SteadinessState {
  last: number
  filtered: number
  spread: number
  difference: number
  /** R; NaN until two values have differed. */
  ratio: number
}

/** The usual weights 0.2, 0.1, 0.1. */
export const USUAL_WEIGHTS: SteadinessWeights = { mean: 0.2, spread: 0.1, difference: 0.1 }

/**
 * Starts the detector at a first value.
 *
 * @param value First reading.
 * @returns The state, its ratio still NaN.
 *
 * Limits: let about 3/λ readings pass before trusting the ratio.
 * Example: 5 → filtered 5, ratio NaN.
 * Source: Cao & Rhinehart 1995, J. Process Control 5:363.
 */
export function startSteadiness(value: number): SteadinessState {
  return { last: value, filtered: value, spread: 0, difference: 0, ratio: Number.NaN }
}

/**
 * One step:  ν² = λ₂(x − x_f)² + (1 − λ₂)ν², x_f = λ₁x + (1 − λ₁)x_f, δ² = λ₃(x − x_last)² + (1 − λ₃)δ², R = (2 − λ₁)ν²/δ²
 *
 * @param state State before.
 * @param value Reading x; x_f in ν² is the one BEFORE this reading.
 * @param weights Filter weights.
 * @returns State after. R near 1: steady; above the critical ratio: moving. NaN while readings repeat exactly.
 *
 * Limits: independent noise; a sensor's own filter raises R. A NaN reading makes the state NaN: skip gaps.
 * Example: critical ratio 1.44 at 5 % for the usual weights.
 * Source: Cao & Rhinehart 1995, J. Process Control 5:363 (from memory).
 */
export function stepSteadiness(
  state: SteadinessState,
  value: number,
  weights: SteadinessWeights,
): SteadinessState {
  const spread = weights.spread * (value - state.filtered) ** 2 + (1 - weights.spread) * state.spread
  const filtered = weights.mean * value + (1 - weights.mean) * state.filtered
  const difference =
    weights.difference * (value - state.last) ** 2 + (1 - weights.difference) * state.difference
  const ratio = difference > 0 ? ((2 - weights.mean) * spread) / difference : Number.NaN
  return { last: value, filtered, spread, difference, ratio }
}
