/** External characteristic of a permanent-magnet machine and of any source with an inner resistance. */

/**
 * Terminal voltage of a direct-current source:  U = E − r·I
 *
 * @param emf Open-circuit voltage E [V].
 * @param resistance Inner resistance r [Ω].
 * @param current I [A].
 * @returns U [V]; negative beyond the short-circuit current.
 *
 * Limits: constant speed, no saturation.
 * Example: 60, 1.5, 20 → 30.
 * Source: Thévenin.
 */
export function terminalVoltage(emf: number, resistance: number, current: number): number {
  return emf - resistance * current
}

/**
 * Power at the terminals of a direct-current source:  P = (E − r·I)·I, at most E²/(4r)
 *
 * @param emf E [V].
 * @param resistance r [Ω].
 * @param current I [A].
 * @returns P [W].
 *
 * Limits: as `terminalVoltage`.
 * Example: 60, 1.5, 20 → 600.
 * Source: Thévenin; maximum power transfer.
 */
export function terminalPower(emf: number, resistance: number, current: number): number {
  return terminalVoltage(emf, resistance, current) * current
}

/**
 * Most power a source can give:  P_max = E²/(4r), at I = E/(2r) and half the voltage
 *
 * @param emf E [V].
 * @param resistance r [Ω].
 * @returns P_max [W].
 *
 * Limits: as `terminalVoltage`.
 * Example: 60, 1.5 → 600.
 * Source: maximum power transfer theorem.
 */
export function greatestTerminalPower(emf: number, resistance: number): number {
  return (emf * emf) / (4 * resistance)
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

/**
 * Voltage regulation:  (V₀ − V)/V
 *
 * @param openCircuitVoltage V₀ [V], same speed.
 * @param loadedVoltage V [V].
 * @returns Regulation [–]. NaN at short circuit (V = 0).
 *
 * Limits: constant speed and excitation.
 * Example: 27, 24.68 → 0.094.
 * Source: IEEE 115 definition (from memory).
 */
export function voltageRegulation(openCircuitVoltage: number, loadedVoltage: number): number {
  return loadedVoltage === 0 ? Number.NaN : (openCircuitVoltage - loadedVoltage) / loadedVoltage
}

/**
 * Copper loss of three phases:  P = 3·I²·R
 *
 * @param current Phase current I [A].
 * @param resistance Phase resistance R [Ω], at working temperature.
 * @returns P [W].
 *
 * Limits: no skin effect. Copper gains 0.39 % per kelvin.
 * Example: 6.92, 0.28 → 40.2.
 * Source: Joule's law.
 */
export function copperLoss(current: number, resistance: number): number {
  return 3 * current * current * resistance
}
