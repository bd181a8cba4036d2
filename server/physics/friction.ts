/** Darcy friction factors of round pipes. All take the Reynolds number Re and the relative roughness ε/D. */

/** Below this Reynolds number pipe flow is taken as laminar; 2300–4000 is unsettled in nature. */
const LAMINAR_LIMIT = 2300

/**
 * Friction factor of laminar flow:  f = 64/Re
 *
 * @param reynolds Re [–].
 * @returns f [–]. NaN for Re ≤ 0.
 *
 * Limits: Re < 2300, round bore.
 * Example: 2000 → 0.032.
 * Source: Hagen–Poiseuille.
 */
export function laminarFriction(reynolds: number): number {
  return reynolds > 0 ? 64 / reynolds : Number.NaN
}

/**
 * Friction factor of turbulent flow, iterated:  1/√f = −2 log₁₀(ε/(3.7D) + 2.51/(Re√f))
 *
 * @param reynolds Re [–].
 * @param relativeRoughness ε/D [–].
 * @returns f [–]. NaN for Re ≤ 0 or negative roughness.
 *
 * Limits: Re ≥ 4000, ε/D ≤ 0.05.
 * Example: 1e5, 1e-4 → 0.01851387.
 * Source: Colebrook 1939, J. Inst. Civil Eng. 11:133.
 */
export function colebrookFriction(reynolds: number, relativeRoughness: number): number {
  if (reynolds <= 0 || relativeRoughness < 0) return Number.NaN
  let x = haalandRoot(reynolds, relativeRoughness)
  for (let i = 0; i < 100; i++) {
    const next = -2 * Math.log10(relativeRoughness / 3.7 + (2.51 * x) / reynolds)
    const isSettled = Math.abs(next - x) <= 1e-15 * Math.abs(next)
    x = next
    if (isSettled) break
  }
  return 1 / (x * x)
}

/**
 * Explicit stand-in for Colebrook:  f = 0.25/log₁₀²(ε/(3.7D) + 5.74/Re^0.9)
 *
 * @param reynolds Re [–].
 * @param relativeRoughness ε/D [–].
 * @returns f [–]. NaN for Re ≤ 0 or negative roughness.
 *
 * Limits: 5e3 ≤ Re ≤ 1e8, ε/D ≤ 0.01; within 1.4 % of Colebrook.
 * Example: 1e5, 1e-4 → 0.01845245.
 * Source: Swamee & Jain 1976, J. Hydraulics Div. ASCE 102:657 (from memory).
 */
export function swameeJainFriction(reynolds: number, relativeRoughness: number): number {
  if (reynolds <= 0 || relativeRoughness < 0) return Number.NaN
  return 0.25 / Math.log10(relativeRoughness / 3.7 + 5.74 / reynolds ** 0.9) ** 2
}

/**
 * Explicit stand-in for Colebrook:  1/√f = −1.8 log₁₀(6.9/Re + (ε/(3.7D))^1.11)
 *
 * @param reynolds Re [–].
 * @param relativeRoughness ε/D [–].
 * @returns f [–]. NaN for Re ≤ 0 or negative roughness.
 *
 * Limits: 4e3 ≤ Re ≤ 1e8, ε/D ≤ 0.05; within 1.4 % of Colebrook.
 * Example: 1e5, 1e-4 → 0.01826505.
 * Source: Haaland 1983, J. Fluids Eng. 105:89; used in Cengel & Cimbala, Ex. 8-3.
 */
export function haalandFriction(reynolds: number, relativeRoughness: number): number {
  if (reynolds <= 0 || relativeRoughness < 0) return Number.NaN
  return 1 / haalandRoot(reynolds, relativeRoughness) ** 2
}

/**
 * The friction factor to use by default: laminar below Re 2300, Colebrook above.
 *
 * @param reynolds Re [–].
 * @param relativeRoughness ε/D [–].
 * @returns f [–]. NaN for Re ≤ 0: water at rest has no friction factor.
 *
 * Limits: between Re 2300 and 4000 the real value wanders between the two laws.
 * Example: 134126.5, 4e-5 → 0.01718839.
 * Source: Hagen–Poiseuille; Colebrook 1939.
 */
export function frictionFactor(reynolds: number, relativeRoughness: number): number {
  if (relativeRoughness < 0 || Number.isNaN(relativeRoughness)) return Number.NaN
  return reynolds < LAMINAR_LIMIT ? laminarFriction(reynolds) : colebrookFriction(reynolds, relativeRoughness)
}

/** 1/√f by Haaland: also Colebrook's starting value. */
function haalandRoot(reynolds: number, relativeRoughness: number): number {
  return -1.8 * Math.log10(6.9 / reynolds + (relativeRoughness / 3.7) ** 1.11)
}
