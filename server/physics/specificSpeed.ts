/**
 * Specific speeds and unit quantities. Arguments are SI (ω in rad/s, P in W); the results carry the trade's
 * customary units, because the published bands and charts do.
 */
import { METRIC_HORSEPOWER, REVOLUTION_PER_MINUTE } from './constantsOfNature.ts'

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
 * Specific speed by power in metric horsepower, as older books print it: 1.166 times the kilowatt value.
 *
 * @param speed ω [rad/s].
 * @param power Shaft power P [W].
 * @param netHead H [m].
 * @returns n_s [customary, metric-horsepower-based].
 *
 * Limits: as `specificSpeedByPower`.
 * Example: 750 min⁻¹, 23544, 60 → 25.410977.
 * Source: definition, 1 metric hp = 735.49875 W.
 */
export function specificSpeedByHorsepower(speed: number, power: number, netHead: number): number {
  return ((speed / REVOLUTION_PER_MINUTE) * Math.sqrt(power / METRIC_HORSEPOWER)) / netHead ** 1.25
}

/**
 * Dimensionless specific speed by discharge:  n_QE = n·√Q/(gH)^¾, n in revolutions per second
 *
 * @param speed ω [rad/s].
 * @param discharge Q [m³/s].
 * @param netHead H [m].
 * @param gravity g [m/s²].
 * @returns n_QE [–].
 *
 * Limits: at the best efficiency point. Bands (ESHA, from memory): Pelton 1 nozzle 0.005–0.025, Francis 0.05–0.33.
 * Example: 750 min⁻¹, 0.05, 60, 9.81 → 0.02338998.
 * Source: IEC 60193; ESHA guide 2004 (from memory).
 */
export function specificSpeedByEnergy(
  speed: number,
  discharge: number,
  netHead: number,
  gravity: number,
): number {
  return ((speed / (2 * Math.PI)) * Math.sqrt(discharge)) / (gravity * netHead) ** 0.75
}

/**
 * Dimensionless power specific speed:  N_sp = ω·√(P/ρ)/(gH)^1.25
 *
 * @param speed ω [rad/s].
 * @param power Shaft power P [W].
 * @param netHead H [m].
 * @param density ρ [kg/m³].
 * @param gravity g [m/s²].
 * @returns N_sp [rad].
 *
 * Limits: at the best efficiency point.
 * Example: 725 min⁻¹, 25902.32, 92, 1000, 9.81 → 0.0781115.
 * Source: Gorla & Khan, Turbomachinery, Ex. 3.2.
 */
export function powerSpecificSpeed(
  speed: number,
  power: number,
  netHead: number,
  density: number,
  gravity: number,
): number {
  return (speed * Math.sqrt(power / density)) / (gravity * netHead) ** 1.25
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
