/** Jet and bucket of an impulse turbine. Speeds in rad/s, diameters at the pitch circle. */

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

/**
 * Speed ratio:  x = u/V
 *
 * @param bucketVelocity u [m/s].
 * @param referenceVelocity V [m/s]: the jet (c₁) or the spouting velocity √(2gH); say which beside the figure.
 * @returns x [–]. NaN when the reference is 0: no jet, no ratio.
 *
 * Limits: none. Best efficiency near 0.46 in practice, 0.5 in theory.
 * Example: 9.66, 21.05 → 0.4589.
 * Source: Gorla & Khan, Turbomachinery, ch. 3.
 */
export function speedRatio(bucketVelocity: number, referenceVelocity: number): number {
  return referenceVelocity === 0 ? Number.NaN : bucketVelocity / referenceVelocity
}

/**
 * How far the bucket turns the jet:  1 + k·cos β
 *
 * @param velocityKept Relative velocity at the outlet over the inlet, k [–]; 1 without bucket friction.
 * @param outletAngle Outlet angle β [rad]: 180° minus the deflection, 10–20° in practice.
 * @returns The bucket factor [–], 2 at best.
 *
 * Limits: k from 0 to 1.
 * Example: 0.9, 15° in rad → 1.869333.
 * Source: Gorla & Khan, Turbomachinery, ch. 3.
 */
export function bucketFactor(velocityKept: number, outletAngle: number): number {
  return 1 + velocityKept * Math.cos(outletAngle)
}

/**
 * Force of the jets on the buckets:  F = ρQ(V − u)·(1 + k cos β)
 *
 * @param massFlow ρQ [kg/s].
 * @param jet Jet velocity V [m/s].
 * @param bucketVelocity u [m/s].
 * @param factor Bucket factor 1 + k cos β [–].
 * @returns F [N], tangential. Negative when the buckets outrun the jet.
 *
 * Limits: every bit of the jet meets a bucket; no windage.
 * Example: Shiv Kumar Ex. 4.6 → 291.72 kN.
 * Source: Euler's turbine equation; Shiv Kumar, Fluid Systems, ch. 4.
 */
export function bucketForce(massFlow: number, jet: number, bucketVelocity: number, factor: number): number {
  return massFlow * (jet - bucketVelocity) * factor
}

/**
 * Power of the jets on the buckets:  P = F·u
 *
 * @param massFlow ρQ [kg/s].
 * @param jet Jet velocity V [m/s].
 * @param bucketVelocity u [m/s].
 * @param factor Bucket factor 1 + k cos β [–].
 * @returns P [W].
 *
 * Limits: as `bucketForce`; bearing and windage losses come off this.
 * Example: Shiv Kumar Ex. 4.3 → 2.4698 kW.
 * Source: Euler's turbine equation; Shiv Kumar, Fluid Systems, ch. 4.
 */
export function bucketPower(massFlow: number, jet: number, bucketVelocity: number, factor: number): number {
  return bucketForce(massFlow, jet, bucketVelocity, factor) * bucketVelocity
}

/**
 * Share of the jet's kinetic energy the buckets take:  η = 2x(1 − x)(1 + k cos β)
 *
 * @param ratio Speed ratio x = u/V, V the jet velocity [–].
 * @param factor Bucket factor 1 + k cos β [–].
 * @returns η [–], referred to the jet. Referred to ρgQH it is Cv² times this: do not mix the two.
 *
 * Limits: as `bucketForce`. Best at x = 0.5.
 * Example: 0.46, 1.869333 → 0.928685.
 * Source: Gorla & Khan, Turbomachinery, ch. 3.
 */
export function bucketEfficiency(ratio: number, factor: number): number {
  return 2 * ratio * (1 - ratio) * factor
}
