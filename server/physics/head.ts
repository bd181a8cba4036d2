/** Heads: energy per weight of water, in metres. Density and gravity are always given, never assumed. */

/**
 * Head of a pressure:  h = p/(ρg)
 *
 * @param pressure Pressure p [Pa], gauge or difference.
 * @param density ρ [kg/m³].
 * @param gravity g [m/s²].
 * @returns h [m]; negative for suction.
 *
 * Limits: incompressible water; 100 m of head changes ρ by 0.047 %.
 * Example: 1e5, 1000, 9.81 → 10.19368.
 * Source: hydrostatics; ISO 80000-4.
 */
export function pressureHead(pressure: number, density: number, gravity: number): number {
  return pressure / (density * gravity)
}

/**
 * Pressure of a head:  p = ρgh
 *
 * @param head h [m].
 * @param density ρ [kg/m³].
 * @param gravity g [m/s²].
 * @returns p [Pa].
 *
 * Limits: as `pressureHead`.
 * Example: 100, 1000, 9.81 → 981000.
 * Source: hydrostatics; ISO 80000-4.
 */
export function pressureOfHead(head: number, density: number, gravity: number): number {
  return density * gravity * head
}

/**
 * Head of a mean velocity:  h = v²/(2g)
 *
 * @param velocity Mean velocity v [m/s].
 * @param gravity g [m/s²].
 * @returns h [m].
 *
 * Limits: flat profile (α = 1); a developed turbulent profile carries 3–6 % more.
 * Example: 3.055775, 9.8 → 0.476416.
 * Source: Bernoulli; IEC 60041.
 */
export function velocityHead(velocity: number, gravity: number): number {
  return (velocity * velocity) / (2 * gravity)
}

/**
 * Total head at a section:  H = p/(ρg) + v²/(2g) + z
 *
 * @param pressure Gauge pressure p [Pa] at the height z.
 * @param velocity Mean velocity v [m/s].
 * @param elevation Height of the gauge z [m above the plant's datum].
 * @param density ρ [kg/m³].
 * @param gravity g [m/s²].
 * @returns H [m above the datum].
 *
 * Limits: gauge line full of water, no air.
 * Example: 480e3, 1.527887, 0.35, 999.1, 9.8066 → 49.459743.
 * Source: Bernoulli; IEC 60041.
 */
export function totalHead(
  pressure: number,
  velocity: number,
  elevation: number,
  density: number,
  gravity: number,
): number {
  return pressureHead(pressure, density, gravity) + velocityHead(velocity, gravity) + elevation
}

/**
 * Net head of an impulse turbine:  H = p/(ρg) + v²/(2g) + Δz. No credit for the fall below the jets.
 *
 * @param pressure Gauge pressure at the manifold tap p [Pa].
 * @param velocity Mean velocity at the tap's section v [m/s].
 * @param heightAboveJet Gauge height above the jet's contact with the pitch circle Δz [m].
 * @param density ρ [kg/m³].
 * @param gravity g [m/s²].
 * @returns H [m].
 *
 * Limits: housing at atmospheric pressure.
 * Example: 480e3, 1.527887, 0.35, 999.1, 9.8066 → 49.459743.
 * Source: IEC 60041, net head of impulse turbines (clause from memory).
 */
export function netHeadImpulse(
  pressure: number,
  velocity: number,
  heightAboveJet: number,
  density: number,
  gravity: number,
): number {
  return totalHead(pressure, velocity, heightAboveJet, density, gravity)
}

/**
 * Net head of a reaction turbine:  H = H_inlet − (z_tailwater + v_out²/(2g))
 *
 * @param inletTotalHead Total head at the inlet section [m above the datum], from `totalHead`.
 * @param tailwaterLevel Tailwater level at the draft tube's end [m above the same datum].
 * @param outletVelocity Mean velocity in the draft tube's outlet [m/s]; it still belongs to the water.
 * @param gravity g [m/s²].
 * @returns H [m].
 *
 * Limits: draft tube drowned, tailwater at atmospheric pressure.
 * Example: 21.2, 0.9, 1.4, 9.81 → 20.2001.
 * Source: IEC 60041, net head between inlet and outlet sections (clause from memory).
 */
export function netHeadReaction(
  inletTotalHead: number,
  tailwaterLevel: number,
  outletVelocity: number,
  gravity: number,
): number {
  return inletTotalHead - tailwaterLevel - velocityHead(outletVelocity, gravity)
}

/**
 * Power the water gives up:  P = ρgQH
 *
 * @param discharge Q [m³/s].
 * @param netHead H [m].
 * @param density ρ [kg/m³].
 * @param gravity g [m/s²].
 * @returns P [W].
 *
 * Limits: steady flow.
 * Example: 0.05, 60, 1000, 9.81 → 29430.
 * Source: IEC 60041, hydraulic power from specific hydraulic energy E = gH.
 */
export function hydraulicPower(discharge: number, netHead: number, density: number, gravity: number): number {
  return density * gravity * discharge * netHead
}
