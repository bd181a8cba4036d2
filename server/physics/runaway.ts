/**
 * Torque over speed at constant head and opening, and what follows when the load is lost.
 * Torque law:  T = T₀·(1 − (n/n_run)^m). m = 1 is the straight line of theory, 1.5 fits small impulse machines.
 * Monitoring only: the over-speed trip must be independent and hard-wired.
 */

/**
 * Torque at a speed:  T = T₀·(1 − (n/n_run)^m)
 *
 * @param stallTorque Torque at standstill T₀ [N·m].
 * @param speed n [rad/s].
 * @param runawaySpeed n_run [rad/s], same head and opening.
 * @param exponent m [–].
 * @returns T [N·m]; negative above runaway. NaN for a negative speed.
 *
 * Limits: steady flow, head unchanged.
 * Example: 6.2917 N·m, 1500, 2763 min⁻¹, 1.5 → 3.775.
 * Source: common practice, no source; m = 1 follows from the bucket equation of Gorla & Khan ch. 3.
 */
export function torqueAtSpeed(
  stallTorque: number,
  speed: number,
  runawaySpeed: number,
  exponent: number,
): number {
  return stallTorque * (1 - (speed / runawaySpeed) ** exponent)
}

/**
 * Torque at standstill from one measured point:  T₀ = T/(1 − (n/n_run)^m)
 *
 * @param torque T [N·m] at `speed`.
 * @param speed n [rad/s], below runaway.
 * @param runawaySpeed n_run [rad/s].
 * @param exponent m [–].
 * @returns T₀ [N·m]. NaN at runaway itself, where the point says nothing about T₀.
 *
 * Limits: as `torqueAtSpeed`; ill-conditioned near runaway.
 * Example: 3.775, 1500, 2763 min⁻¹, 1.5 → 6.29.
 * Source: the torque law at the top of this file.
 */
export function stallTorque(torque: number, speed: number, runawaySpeed: number, exponent: number): number {
  const share = 1 - (speed / runawaySpeed) ** exponent
  return share === 0 ? Number.NaN : torque / share
}

/**
 * Runaway speed from stall torque and one point:  n_run = n/(1 − T/T₀)^(1/m)
 *
 * @param stall T₀ [N·m].
 * @param torque T [N·m] at `speed`.
 * @param speed n [rad/s].
 * @param exponent m [–].
 * @returns n_run [rad/s]. NaN when T ≥ T₀.
 *
 * Limits: as `torqueAtSpeed`. A prediction, never a rating.
 * Example: 6.2917, 3.775, 1500 min⁻¹, 1.5 → 2763 min⁻¹.
 * Source: the torque law at the top of this file.
 */
export function runawaySpeed(stall: number, torque: number, speed: number, exponent: number): number {
  const share = 1 - torque / stall
  return share > 0 ? speed / share ** (1 / exponent) : Number.NaN
}

/**
 * Runaway speed over the speed of most power:  n_run/n_opt = (m + 1)^(1/m)
 *
 * @param exponent m [–].
 * @returns Ratio [–]: 2 for the straight line, 1.842 for m = 1.5. Published Pelton range 1.8–1.9.
 *
 * Limits: m > 0.
 * Example: 1.5 → 1.842.
 * Source: dP/dn = 0 of the torque law; ESHA guide 2004 for the published range (from memory).
 */
export function runawayRatio(exponent: number): number {
  return (exponent + 1) ** (1 / exponent)
}

/**
 * Mechanical starting time:  T_m = J·ω²/P
 *
 * @param inertia Inertia of everything that turns, referred to this shaft, J [kg·m²].
 * @param speed Rated ω [rad/s].
 * @param power Rated power P [W].
 * @returns T_m [s]. After a full load rejection the speed rises at first by n/T_m per second.
 *
 * Limits: constant torque over the first tenth of speed rise.
 * Example: 1.2, 157.08, 16667 → 1.78.
 * Source: Newton's law for rotation; IEC 60308 symbol (from memory).
 */
export function mechanicalStartTime(inertia: number, speed: number, power: number): number {
  return (inertia * speed * speed) / power
}
