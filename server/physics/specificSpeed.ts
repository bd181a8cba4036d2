/**
 * Specific speeds and unit quantities. Arguments are SI (ω in rad/s, P in W); the results carry the trade's
 * customary units, because the published bands and charts do.
 */

/** Speed of one revolution per minute [rad/s]. Multiply to go to SI, divide to read min⁻¹. */
const REVOLUTION_PER_MINUTE = (2 * Math.PI) / 60

/**
 * Specific speed by discharge:  n_q = n·√Q/H^¾, n in min⁻¹
 *
 * @param speed ω [rad/s].
 * @param discharge Q [m³/s]; per jet for a multi-jet machine.
 * @param netHead H [m].
 * @returns n_q [min⁻¹·m^¾·s^−½ by custom]. NaN for a negative discharge or head.
 *
 * Limits: at the best efficiency point. n_q = 60·g^¾·n_QE, about 333·n_QE.
 * Example: 750 min⁻¹, 0.05, 60 → 7.779162.
 * Source: ESHA Guide on How to Develop a Small Hydropower Plant, 2004 (from memory).
 */
export function specificSpeedByDischarge(speed: number, discharge: number, netHead: number): number {
  return ((speed / REVOLUTION_PER_MINUTE) * Math.sqrt(discharge)) / netHead ** 0.75
}

/**
 * Specific speed by power:  n_s = n·√P/H^1.25, n in min⁻¹, P in kW
 *
 * @param speed ω [rad/s].
 * @param power Shaft power P [W]; per jet for a multi-jet machine.
 * @param netHead H [m].
 * @returns n_s [customary, kilowatt-based]. NaN for negative power or head.
 *
 * Limits: at the best efficiency point.
 * Example: 750 min⁻¹, 23544, 60 → 21.792764.
 * Source: Shiv Kumar, Fluid Systems, ch. 7.
 */
export function specificSpeedByPower(speed: number, power: number, netHead: number): number {
  return ((speed / REVOLUTION_PER_MINUTE) * Math.sqrt(power / 1000)) / netHead ** 1.25
}

/**
 * Unit speed:  n₁₁ = nD/√H, n in min⁻¹
 *
 * @param speed ω [rad/s].
 * @param diameter Runner diameter D [m].
 * @param netHead H [m].
 * @returns n₁₁ [m^½/min].
 *
 * Limits: none.
 * Example: 750 min⁻¹, 0.4, 60 → 38.729833.
 * Source: IEC 60193; Shiv Kumar, Fluid Systems, ch. 7.
 */
export function unitSpeed(speed: number, diameter: number, netHead: number): number {
  return ((speed / REVOLUTION_PER_MINUTE) * diameter) / Math.sqrt(netHead)
}

/**
 * Unit discharge:  Q₁₁ = Q/(D²√H)
 *
 * @param discharge Q [m³/s].
 * @param diameter Runner diameter D [m].
 * @param netHead H [m].
 * @returns Q₁₁ [m^½/s].
 *
 * Limits: none.
 * Example: 0.05, 0.4, 60 → 0.04034358.
 * Source: IEC 60193; Shiv Kumar, Fluid Systems, ch. 7.
 */
export function unitDischarge(discharge: number, diameter: number, netHead: number): number {
  return discharge / (diameter * diameter * Math.sqrt(netHead))
}

/**
 * Unit power:  P₁₁ = P/(D²H^1.5), P in kW
 *
 * @param power P [W].
 * @param diameter Runner diameter D [m].
 * @param netHead H [m].
 * @returns P₁₁ [kW/m^3.5].
 *
 * Limits: none.
 * Example: 23544, 0.4, 60 → 0.31661639.
 * Source: Shiv Kumar, Fluid Systems, ch. 7.
 */
export function unitPower(power: number, diameter: number, netHead: number): number {
  return power / 1000 / (diameter * diameter * netHead ** 1.5)
}
