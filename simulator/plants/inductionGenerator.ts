export interface InductionDesign {
  /** Of the field at rated frequency [rad/s]. */
  synchronousSpeed: number
  /** Air-gap torque [N·m] at `ratedSlip` (a positive number; the machine turns faster than the field). */
  ratedTorque: number
  ratedSlip: number
  /** Slip of the highest torque. */
  breakdownSlip: number
}

/**
 * Torque that the machine takes from the shaft [N·m] while connected, after Kloss:
 * T = 2·T_b / (s/s_b + s_b/s), s = (ω − ω_s)/ω_s. Negative (it motors) below synchronous speed.
 *
 * @param frequencyShare Present over rated frequency.
 */
export function inductionTorque(machine: InductionDesign, speed: number, frequencyShare: number): number {
  const synchronous = machine.synchronousSpeed * frequencyShare
  const slip = (speed - synchronous) / synchronous
  const rated = machine.ratedSlip / machine.breakdownSlip
  const breakdown = (machine.ratedTorque * (rated + 1 / rated)) / 2
  const x = slip / machine.breakdownSlip
  return (2 * breakdown * x) / (x ** 2 + 1)
}
