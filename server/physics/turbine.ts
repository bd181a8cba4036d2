/** Jet and bucket of an impulse turbine. Speeds in rad/s, diameters at the pitch circle. */

import { boreArea } from './pipe.ts'

/**
 * Jet velocity:  V = Cv·√(2gH)
 *
 * @param velocityCoefficient Nozzle velocity coefficient Cv [–], 0.96–0.99 in practice.
 * @param netHead H [m].
 * @param gravity g [m/s²].
 * @returns V [m/s]; with Cv = 1 the spouting velocity. NaN for a negative head.
 *
 * Limits: jet into air.
 * Example: 0.98, 30, 9.81 → 23.77586.
 * Source: Torricelli; Shiv Kumar, Fluid Systems, ch. 4.
 */
export function jetVelocity(velocityCoefficient: number, netHead: number, gravity: number): number {
  return velocityCoefficient * Math.sqrt(2 * gravity * netHead)
}

/**
 * Discharge of a jet that neither contracts nor loses anything:  Q = (π/4)d²·√(2gH); times Cd that of a real nozzle.
 *
 * @param nozzleBore d [m].
 * @param head H [m]: total head before the nozzle.
 * @param gravity g [m/s²].
 * @returns Q [m³/s]. NaN for a negative head.
 *
 * Limits: jet into air; Cd is referred to the bore.
 * Example: 0.0075, 24, 9.81 → 0.00095866.
 * Source: Torricelli.
 */
export function idealJetFlow(nozzleBore: number, head: number, gravity: number): number {
  return boreArea(nozzleBore) * jetVelocity(1, head, gravity)
}

/**
 * Speed of the buckets:  u = ωD/2
 *
 * @param speed ω [rad/s].
 * @param pitchDiameter D [m].
 * @returns u [m/s].
 *
 * Limits: none.
 * Example: 157.0796, 0.123 → 9.6604.
 * Source: kinematics.
 */
export function bucketSpeed(speed: number, pitchDiameter: number): number {
  return (speed * pitchDiameter) / 2
}
