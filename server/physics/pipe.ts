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
