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
