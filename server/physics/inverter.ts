/** Efficiency of inverters over load. Efficiencies are fractions. */

/**
 * Part-load efficiency:  η = (η_nom/0.9637)·(−0.0162ζ − 0.0059/ζ + 0.9858)
 *
 * @param loadFraction Load over rated ζ [–].
 * @param nominalEfficiency η_nom at full load [–].
 * @returns η [–]. NaN at ζ ≤ 0: no-load loss has no efficiency. Negative below ζ ≈ 0.006, shown as it is.
 *
 * Limits: 0.05 ≤ ζ ≤ 1; a typical curve, not a data sheet.
 * Example: 0.5, 0.96 → 0.9621916.
 * Source: US national laboratory, inverter model of a 2014 solar manual (read in a public library's documentation).
 */
export function inverterPartLoad(loadFraction: number, nominalEfficiency: number): number {
  if (loadFraction <= 0) return Number.NaN
  return (nominalEfficiency / 0.9637) * (-0.0162 * loadFraction - 0.0059 / loadFraction + 0.9858)
}

/**
 * European weighted efficiency:  0.03η₅ + 0.06η₁₀ + 0.13η₂₀ + 0.10η₃₀ + 0.48η₅₀ + 0.20η₁₀₀
 *
 * @param at5 Efficiency at 5 % load [–].
 * @param at10 At 10 %.
 * @param at20 At 20 %.
 * @param at30 At 30 %.
 * @param at50 At 50 %.
 * @param at100 At 100 %.
 * @returns Weighted efficiency [–].
 *
 * Limits: weights stand for sunshine in central Europe, not for a steady hydro plant.
 * Example: .85, .90, .93, .945, .95, .94 → 0.9389.
 * Source: EN 50530 (weights from memory).
 */
export function europeanEfficiency(
  at5: number,
  at10: number,
  at20: number,
  at30: number,
  at50: number,
  at100: number,
): number {
  return 0.03 * at5 + 0.06 * at10 + 0.13 * at20 + 0.1 * at30 + 0.48 * at50 + 0.2 * at100
}

/**
 * Californian weighted efficiency:  0.04η₁₀ + 0.05η₂₀ + 0.12η₃₀ + 0.21η₅₀ + 0.53η₇₅ + 0.05η₁₀₀
 *
 * @param at10 Efficiency at 10 % load [–].
 * @param at20 At 20 %.
 * @param at30 At 30 %.
 * @param at50 At 50 %.
 * @param at75 At 75 %.
 * @param at100 At 100 %.
 * @returns Weighted efficiency [–].
 *
 * Limits: as `europeanEfficiency`, for a sunnier climate.
 * Example: .90, .93, .945, .95, .948, .94 → 0.94484.
 * Source: California Energy Commission inverter test protocol (weights from memory).
 */
export function californianEfficiency(
  at10: number,
  at20: number,
  at30: number,
  at50: number,
  at75: number,
  at100: number,
): number {
  return 0.04 * at10 + 0.05 * at20 + 0.12 * at30 + 0.21 * at50 + 0.53 * at75 + 0.05 * at100
}
