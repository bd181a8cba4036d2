/** Flow and head loss in a full round pipe. */

/**
 * Area of a round bore:  A = πD²/4
 *
 * @param bore Inner diameter D [m].
 * @returns A [m²].
 *
 * Limits: D ≥ 0.
 * Example: 0.05 → 1.963495e-3.
 * Source: geometry.
 */
export function boreArea(bore: number): number {
  return (Math.PI / 4) * bore * bore
}

/**
 * Mean velocity in a full pipe:  v = 4Q/(πD²)
 *
 * @param discharge Q [m³/s].
 * @param bore Inner diameter D [m].
 * @returns v [m/s].
 *
 * Limits: pipe full.
 * Example: 0.006, 0.05 → 3.055775.
 * Source: continuity.
 */
export function meanVelocity(discharge: number, bore: number): number {
  return discharge / boreArea(bore)
}

/**
 * Reynolds number:  Re = vD/ν
 *
 * @param velocity Mean velocity v [m/s].
 * @param bore Inner diameter D [m].
 * @param kinematicViscosity ν [m²/s].
 * @returns Re [–]; takes the sign of the velocity.
 *
 * Limits: none.
 * Example: 2.122066, 0.3, 1.3063e-6 → 487345.
 * Source: ISO 80000-11.
 */
export function reynoldsNumber(velocity: number, bore: number, kinematicViscosity: number): number {
  return (velocity * bore) / kinematicViscosity
}

/**
 * Head loss by friction:  h = f(L/D)·v|v|/(2g)
 *
 * @param frictionFactor Darcy friction factor f [–] (four times Fanning's).
 * @param length L [m].
 * @param bore Inner diameter D [m].
 * @param velocity Mean velocity v [m/s]; reversed flow gives a negative loss.
 * @param gravity g [m/s²].
 * @returns h [m].
 *
 * Limits: steady flow.
 * Example: 0.0176853, 250, 0.3, 2.122066, 9.81 → 3.382595.
 * Source: Darcy–Weisbach; Cengel & Cimbala, Fluid Mechanics, ch. 8.
 */
export function darcyLoss(
  frictionFactor: number,
  length: number,
  bore: number,
  velocity: number,
  gravity: number,
): number {
  return (frictionFactor * length * velocity * Math.abs(velocity)) / (2 * gravity * bore)
}

/**
 * Head loss in bends, valves, inlet and outlet:  h = K·v|v|/(2g)
 *
 * @param coefficient Sum of loss coefficients K [–].
 * @param velocity Mean velocity v [m/s] at the section the K values refer to.
 * @param gravity g [m/s²].
 * @returns h [m].
 *
 * Limits: fittings several diameters apart. Usual K: sharp inlet 0.5, open gate valve 0.2, outlet 1.0 (from memory).
 * Example: 1.1, 2.122066, 9.81 → 0.252471.
 * Source: Cengel & Cimbala, Fluid Mechanics, ch. 8.
 */
export function minorLoss(coefficient: number, velocity: number, gravity: number): number {
  return (coefficient * velocity * Math.abs(velocity)) / (2 * gravity)
}

/**
 * Empirical friction loss:  h = 10.67·L·Q^1.852/(C^1.852·D^4.8704)
 *
 * @param discharge Q [m³/s].
 * @param length L [m].
 * @param bore Inner diameter D [m].
 * @param coefficient Hazen–Williams C [–], e.g. 150 for new plastic.
 * @returns h [m]. NaN for reversed flow: the power of a negative number has no meaning.
 *
 * Limits: water near 15 °C, D > 50 mm, v near 1 m/s; prefer Darcy with Colebrook.
 * Example: 0.15, 250, 0.3, 140 → 2.966368.
 * Source: Hazen & Williams, SI form (constant from memory).
 */
export function hazenWilliamsLoss(
  discharge: number,
  length: number,
  bore: number,
  coefficient: number,
): number {
  return (10.67 * length * (discharge / coefficient) ** 1.852) / bore ** 4.8704
}

/**
 * Friction loss in a full round pipe by Manning:  h = (nv)²L/R^(4/3), R = D/4
 *
 * @param discharge Q [m³/s]; reversed flow gives a negative loss.
 * @param length L [m].
 * @param bore Inner diameter D [m].
 * @param roughness Manning's n [s/m^⅓], e.g. 0.012 for welded steel.
 * @returns h [m]. The printed shortcut 10.29n²Q²L/D^(16/3) is this, rounded: 0.035 % lower.
 *
 * Limits: fully rough turbulent flow.
 * Example: 0.15, 250, 0.3, 0.012 → 5.125527.
 * Source: Manning; ESHA Guide on How to Develop a Small Hydropower Plant, 2004 (from memory).
 */
export function manningLoss(discharge: number, length: number, bore: number, roughness: number): number {
  const velocity = meanVelocity(discharge, bore)
  return (roughness ** 2 * velocity * Math.abs(velocity) * length) / (bore / 4) ** (4 / 3)
}

/**
 * Mean velocity of uniform open-channel flow:  v = R^⅔·S^½/n
 *
 * @param hydraulicRadius Wetted area over wetted perimeter R [m].
 * @param slope Slope of the energy line S [–].
 * @param roughness Manning's n [s/m^⅓].
 * @returns v [m/s]. NaN for a negative slope.
 *
 * Limits: uniform, fully rough flow.
 * Example: 0.2859, 0.005236, 0.03 → 1.0467782.
 * Source: Manning; Chow, Open-Channel Hydraulics, 1959 (from memory).
 */
export function manningVelocity(hydraulicRadius: number, slope: number, roughness: number): number {
  return (hydraulicRadius ** (2 / 3) * Math.sqrt(slope)) / roughness
}
