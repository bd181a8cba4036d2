/**
 * Properties of fresh, air-free liquid water. Temperatures are in kelvin, pressures absolute, in pascal.
 * Nothing is clamped: outside the stated range the correlation is still evaluated, and is less and less true.
 */
import { STANDARD_ATMOSPHERE, ZERO_CELSIUS } from './constantsOfNature.ts'

/** Pressure derivative of the bulk modulus of water, dK/dp [–]; 5.6 from memory, 5–6 fit the check points. */
const BULK_MODULUS_SLOPE = 5.6

/**
 * Density at one atmosphere:  ρ = 999.974950·[1 − (t − 3.983035)²(t + 301.797)/(522528.9(t + 69.34881))], t in °C
 *
 * @param temperature Water temperature T [K].
 * @returns ρ [kg/m³].
 *
 * Limits: 0–40 °C; 0.005 kg/m³ low at 50 °C, 0.02 low at 60 °C. Dissolved air lowers ρ by up to 0.003.
 * Example: 293.15 K → 998.2067.
 * Source: Tanaka et al. 2001, Metrologia 38:301 (coefficients from memory, checked against IAPWS-95).
 */
export function waterDensityTanaka(temperature: number): number {
  const t = temperature - ZERO_CELSIUS
  return 999.97495 * (1 - ((t - 3.983035) ** 2 * (t + 301.797)) / (522528.9 * (t + 69.34881)))
}

/**
 * Density at one atmosphere as a fifth-degree polynomial over a linear term.
 *
 * @param temperature Water temperature T [K].
 * @returns ρ [kg/m³], 0.003 below the modern scale near room temperature (IPTS-68, isotopic basis), by design.
 *
 * Limits: 0–150 °C. Prefer it to `waterDensityTanaka` above 40 °C.
 * Example: 323.15 K → 988.0363.
 * Source: Kell 1975, J. Chem. Eng. Data 20:97 (coefficients seen in several public codes).
 */
export function waterDensityKell(temperature: number): number {
  const t = temperature - ZERO_CELSIUS
  const polynomial =
    999.83952 +
    t * (16.945176 + t * (-7.9870401e-3 + t * (-46.170461e-6 + t * (105.56302e-9 - 280.54253e-12 * t))))
  return polynomial / (1 + 16.87985e-3 * t)
}

/**
 * Isothermal compressibility at one atmosphere, κ = (1/ρ)(∂ρ/∂p).
 *
 * @param temperature Water temperature T [K].
 * @returns κ [1/Pa].
 *
 * Limits: 0–100 °C.
 * Example: 293.15 K → 4.589e-10, so 100 m of head adds 0.045 % to ρ.
 * Source: Kell 1975, J. Chem. Eng. Data 20:97 (coefficients seen in several public codes).
 */
export function waterCompressibility(temperature: number): number {
  const t = temperature - ZERO_CELSIUS
  const polynomial =
    50.88496 + t * (0.6163813 + t * (1.459187e-3 + t * (20.08438e-6 + t * (-58.47727e-9 + 410.411e-12 * t))))
  return (polynomial / (1 + 19.67348e-3 * t)) * 1e-11
}

/**
 * Density under pressure, the house default:  ρ = ρ_Tanaka(T)·(1 + K'·κ(T)·(p − p_atm))^(1/K')
 *
 * @param temperature Water temperature T [K].
 * @param pressure Absolute pressure p [Pa]; gauge readings need the atmosphere added.
 * @returns ρ [kg/m³].
 *
 * Limits: 0–40 °C, up to 10 MPa, where it is within 0.005 kg/m³ of IAPWS-95.
 * Example: 293.15 K and 5 MPa → 1000.439.
 * Source: Tanaka 2001 at one atmosphere, compressibility of Kell 1975, Murnaghan 1944 for its change with p.
 */
export function waterDensity(temperature: number, pressure: number): number {
  const rise = waterCompressibility(temperature) * (pressure - STANDARD_ATMOSPHERE)
  return waterDensityTanaka(temperature) * (1 + BULK_MODULUS_SLOPE * rise) ** (1 / BULK_MODULUS_SLOPE)
}

/**
 * Dynamic viscosity at 0.1 MPa:  µ = 1e-6·Σ aᵢ(T/300)^bᵢ, four terms.
 *
 * @param temperature Water temperature T [K].
 * @returns µ [Pa·s].
 *
 * Limits: 253–383 K. Pressure changes µ by less than 0.3 % up to 5 MPa and is ignored.
 * Example: 293.15 K → 1.0016e-3.
 * Source: IAPWS SR6-08, liquid water at 0.1 MPa (coefficients from memory, checked against IAPWS R12-08).
 */
export function waterViscosity(temperature: number): number {
  const r = temperature / 300
  return 1e-6 * (280.68 * r ** -1.9 + 511.45 * r ** -7.7 + 61.131 * r ** -19.6 + 0.45903 * r ** -40)
}

/**
 * Kinematic viscosity at one atmosphere:  ν = µ/ρ
 *
 * @param temperature Water temperature T [K].
 * @returns ν [m²/s].
 *
 * Limits: 0–40 °C for 0.01 %; to 60 °C for 0.02 %.
 * Example: 283.15 K → 1.3063e-6.
 * Source: IAPWS SR6-08 for µ, Tanaka 2001 for ρ.
 */
export function waterKinematicViscosity(temperature: number): number {
  return waterViscosity(temperature) / waterDensityTanaka(temperature)
}

/**
 * Vapour pressure over liquid water, the saturation line of region 4.
 *
 * @param temperature Water temperature T [K].
 * @returns p_sat [Pa, absolute]. NaN above the critical point, where the square root has no real value.
 *
 * Limits: 273.15–647.096 K.
 * Example: 300 K → 3536.589.
 * Source: IAPWS-IF97 (R7-97(2012)) equation 30, coefficients seen in several public codes.
 */
export function waterVapourPressure(temperature: number): number {
  const theta = temperature - 0.23855557567849 / (temperature - 650.17534844798)
  const a = theta * theta + 1167.0521452767 * theta - 724213.16703206
  const b = -17.073846940092 * theta * theta + 12020.82470247 * theta - 3232555.0322333
  const c = 14.91510861353 * theta * theta - 4823.2657361591 * theta + 405113.40542057
  return 1e6 * ((2 * c) / (-b + Math.sqrt(b * b - 4 * a * c))) ** 4
}

/**
 * Speed of sound in still water at one atmosphere, a fifth-degree polynomial in °C.
 *
 * @param temperature Water temperature T [K].
 * @returns c [m/s]. In a pipe the wall slows the wave: see `waveSpeed`.
 *
 * Limits: 0–95 °C, air-free; a thousandth part of free air by volume lowers c several-fold.
 * Example: 293.15 K → 1482.4.
 * Source: Marczak 1997, J. Acoust. Soc. Am. 102:2776 (coefficients from memory, checked against IAPWS-95).
 */
export function waterSoundSpeed(temperature: number): number {
  const t = temperature - ZERO_CELSIUS
  return (
    1402.385 + t * (5.038813 + t * (-5.799136e-2 + t * (3.287156e-4 + t * (-1.398845e-6 + 2.78786e-9 * t))))
  )
}

/**
 * Bulk modulus for pressure waves (isentropic):  K = ρc²
 *
 * @param temperature Water temperature T [K].
 * @returns K [Pa].
 *
 * Limits: as `waterSoundSpeed` and `waterDensityTanaka`.
 * Example: 283.15 K → 2.094e9.
 * Source: definition of the speed of sound; Marczak 1997 and Tanaka 2001.
 */
export function waterBulkModulus(temperature: number): number {
  return waterDensityTanaka(temperature) * waterSoundSpeed(temperature) ** 2
}
