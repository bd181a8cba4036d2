/**
 * Properties of fresh, air-free liquid water. Temperatures are in kelvin, pressures absolute, in pascal.
 * Nothing is clamped: outside the stated range the correlation is still evaluated, and is less and less true.
 */

/** 0 °C in kelvin, exact by definition. Source: SI brochure. */
const ZERO_CELSIUS = 273.15

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

/** dK/dp of water: the bulk modulus grows with the pressure (from memory, checked against IAPWS-95 below). */
const STIFFENING = 5.6
/** Pressure of a metre of water [Pa]; 0.3 % between equator and pole, which changes ρ by 1e-6 at 100 m. */
const PER_METRE = 9806.65

/**
 * Density of water that bears a head:  ρ = ρ_Tanaka(T)·(1 + n·κ·p)^(1/n), κ = (50.74 − 0.326t + 0.00416t²)·1e-11 Pa⁻¹
 *
 * @param temperature Water temperature T [K].
 * @param head Water above it [m], p = 9806.65 Pa/m.
 * @returns ρ [kg/m³].
 *
 * Limits: 0–40 °C, to 500 m within 0.01 kg/m³ of IAPWS-95. What fresh water carries dissolved (to 0.3 kg/m³, from memory)
 * is left out: 0.03 %, and none of it reaches a power from pressure and flow.
 * Example: 283.15 K, 0 m → 999.7026; 283.15 K, 91.64 m → 1000.132.
 * Source: Tanaka et al. 2001, Metrologia 38:301 for ρ and κ; Murnaghan 1944 for the course of κ (both from memory).
 */
export function waterDensityUnderHead(temperature: number, head: number): number {
  const t = temperature - ZERO_CELSIUS
  const compressibility = (50.74 - 0.326 * t + 0.00416 * t ** 2) * 1e-11
  const squeezed = (1 + STIFFENING * compressibility * PER_METRE * head) ** (1 / STIFFENING)
  return waterDensityTanaka(temperature) * squeezed
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
