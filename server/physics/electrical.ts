/** Phases and machines at their terminals. Voltages and currents are RMS. */

/**
 * Largest departure of three phases from their mean:  max|xₖ − x̄|/x̄
 *
 * @param first RMS value of the first phase [V or A].
 * @param second RMS value of the second phase.
 * @param third RMS value of the third phase.
 * @returns Unbalance [–]. NaN when the mean is 0.
 *
 * Limits: magnitudes only.
 * Example: 10, 10, 13 → 0.1818.
 * Source: NEMA MG-1 definition (from memory).
 */
export function phaseUnbalance(first: number, second: number, third: number): number {
  const mean = (first + second + third) / 3
  const worst = Math.max(Math.abs(first - mean), Math.abs(second - mean), Math.abs(third - mean))
  return mean === 0 ? Number.NaN : worst / mean
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
