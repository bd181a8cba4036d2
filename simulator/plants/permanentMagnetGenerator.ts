export interface PermanentMagnetDesign {
  /** Phase EMF [V RMS] per mechanical speed [rad/s]. */
  emfConstant: number
  polePairs: number
  /** Per phase, star. */
  resistance: number
  inductance: number
  /** Iron and windage losses [W] at `ratedSpeed` [rad/s]. */
  ironLoss: number
  windageLoss: number
  ratedSpeed: number
}

export interface Terminals {
  /** Phase voltage [V RMS]. */
  voltage: number
  /** Power at the terminals [W]. */
  power: number
  copperLoss: number
}

export function emf(machine: PermanentMagnetDesign, speed: number): number {
  return machine.emfConstant * speed
}

/**
 * Terminals with a resistive load that draws `current` [A RMS] per phase:
 * E² = (V + I·R)² + (I·ωₑL)². Valid on the rising branch of the power curve, where the charger keeps it.
 */
export function terminals(machine: PermanentMagnetDesign, speed: number, current: number): Terminals {
  const reactance = machine.polePairs * speed * machine.inductance
  const inner = Math.max(0, emf(machine, speed) ** 2 - (current * reactance) ** 2)
  const voltage = Math.sqrt(inner) - current * machine.resistance
  return { voltage, power: 3 * voltage * current, copperLoss: 3 * current ** 2 * machine.resistance }
}

/** Torque [N·m] that a phase current takes from the shaft: 3·I·√(k² − (I·pL)²), the same at every speed. */
export function currentTorque(machine: PermanentMagnetDesign, current: number): number {
  const reactive = current * machine.polePairs * machine.inductance
  return 3 * current * Math.sqrt(Math.max(0, machine.emfConstant ** 2 - reactive ** 2))
}

/** Largest current [A] at which the phase voltage is still `voltage`; 0 where the EMF does not reach it. */
export function currentAtVoltage(machine: PermanentMagnetDesign, speed: number, voltage: number): number {
  const e = emf(machine, speed)
  if (e <= voltage) return 0
  const r = machine.resistance
  const x = machine.polePairs * speed * machine.inductance
  const a = r ** 2 + x ** 2
  return (Math.sqrt((voltage * r) ** 2 + a * (e ** 2 - voltage ** 2)) - voltage * r) / a
}

/** Current [A] into resistors of `load` [Ω] per phase at the terminals. */
export function currentIntoResistors(machine: PermanentMagnetDesign, speed: number, load: number): number {
  const reactance = machine.polePairs * speed * machine.inductance
  return emf(machine, speed) / Math.hypot(machine.resistance + load, reactance)
}

/** Iron loss grows with n^1.5, windage and bearings with n [W]. */
export function rotationLoss(
  machine: PermanentMagnetDesign,
  speed: number,
): { iron: number; windage: number } {
  const share = Math.max(0, speed) / machine.ratedSpeed
  return { iron: machine.ironLoss * share ** 1.5, windage: machine.windageLoss * share }
}

/** The same as a torque [N·m], finite at standstill. */
export function rotationTorque(machine: PermanentMagnetDesign, speed: number): number {
  const share = Math.max(0, speed) / machine.ratedSpeed
  return (machine.ironLoss * Math.sqrt(share) + machine.windageLoss) / machine.ratedSpeed
}
