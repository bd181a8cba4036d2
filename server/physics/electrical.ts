/** Phases and machines at their terminals. Voltages and currents are RMS. */

/**
 * Largest departure of three phases from their mean:  max|xₖ − x̄|/x̄
 *
 * @param first RMS value of the first line current or of the first voltage between two phases [A or V].
 * @param second RMS value of the second one.
 * @param third RMS value of the third one.
 * @returns Unbalance [–]. NaN when the mean is 0.
 *
 * Limits: magnitudes only. Voltages between phases: those to a neutral also show where the neutral stands.
 * Example: 10, 10, 13 → 0.1818.
 * Source: NEMA MG 1, definition of voltage unbalance (from memory).
 */
export function phaseUnbalance(first: number, second: number, third: number): number {
  const mean = (first + second + third) / 3
  const worst = Math.max(Math.abs(first - mean), Math.abs(second - mean), Math.abs(third - mean))
  return mean === 0 ? Number.NaN : worst / mean
}

/**
 * Negative over positive sequence of three voltages that close a triangle:  √((1 − √(3 − 6β))/(1 + √(3 − 6β))),
 * β = (U₁₂⁴ + U₂₃⁴ + U₃₁⁴)/(U₁₂² + U₂₃² + U₃₁²)²
 *
 * Computed as √v/(1 + √(1 − v)) with v = 6β − 2 from differences, which is the same and keeps its digits near balance.
 *
 * @param first RMS voltage between the phases 1 and 2 [V].
 * @param second RMS voltage between 2 and 3 [V].
 * @param third RMS voltage between 3 and 1 [V].
 * @returns Ratio U₂/U₁ [–], 0 to 1. NaN where the three close no triangle: one of them is wrong; and without voltage.
 *
 * Limits: fundamental voltages; the phases follow one another in the order of the machine.
 * Example: 460, 467, 450 → 0.0214.
 * Source: IEC 61000-4-30, supply voltage unbalance (from memory), checked with Fortescue's components of phasors.
 */
export function negativeSequenceRatio(first: number, second: number, third: number): number {
  const [a, b, c] = [first ** 2, second ** 2, third ** 2]
  const v = (2 * ((a - b) ** 2 + (b - c) ** 2 + (c - a) ** 2)) / (a + b + c) ** 2
  return Math.sqrt(v) / (1 + Math.sqrt(1 - v))
}

/**
 * Voltage between two phases from both to neutral:  √(U₁² + U₂² − 2·U₁·U₂·cos δ)
 *
 * @param first RMS voltage of one phase to neutral [V].
 * @param second RMS voltage of the other [V].
 * @param angle Angle from one to the other δ [rad], about ± 120°.
 * @returns RMS voltage between them [V].
 *
 * Example: 230, 230, 120° in rad → 398.37.
 * Source: law of cosines on the phasors.
 */
export function voltageBetween(first: number, second: number, angle: number): number {
  return Math.sqrt(first ** 2 + second ** 2 - 2 * first * second * Math.cos(angle))
}

/**
 * Phase voltage of a permanent-magnet machine on a resistive load:  V = √(E² − (IX)²) − IR
 *
 * @param emf Phase EMF E = k_e·n [V].
 * @param resistance Phase resistance R [Ω].
 * @param reactance Phase reactance X = 2πfL [Ω], at the actual frequency.
 * @param current Phase current I [A].
 * @returns V [V]. NaN when IX > E: the machine cannot push that current.
 *
 * Limits: round rotor, unity power factor, no saturation; a rectifier load is close to this.
 * Example: 27, 0.28, 0.6283, 5 → 25.42.
 * Source: phasor diagram E² = (V + IR)² + (IX)²; Fitzgerald, Electric Machinery (from memory).
 */
export function magnetMachineVoltage(
  emf: number,
  resistance: number,
  reactance: number,
  current: number,
): number {
  return Math.sqrt(emf * emf - (current * reactance) ** 2) - current * resistance
}
