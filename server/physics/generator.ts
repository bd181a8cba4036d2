/** External characteristic of a permanent-magnet machine. */

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
