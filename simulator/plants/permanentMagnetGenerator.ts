export interface PermanentMagnetDesign {
  /** Phase EMF [V RMS] per mechanical speed [rad/s]. */
  emfConstant: number
  polePairs: number
  /** Per phase, star. */
  resistance: number
  inductance: number
}

/** What hangs on the terminals, per phase: a current in phase with the voltage [A RMS], and resistors [S]. */
export interface TerminalLoad {
  current: number
  conductance: number
}

export interface Terminals {
  /** Phase voltage [V RMS] and all of a phase's current [A RMS]. */
  voltage: number
  current: number
  copperLoss: number
}

export function emf(machine: PermanentMagnetDesign, speed: number): number {
  return machine.emfConstant * speed
}

/**
 * Terminals of a machine with a resistive load, I = I_load + G·V:
 * E² = (V + I·R)² + (I·ωₑL)². Valid on the rising branch of the power curve, where the charger keeps it; a current
 * that the machine cannot give is that of a short circuit.
 */
export function terminals(machine: PermanentMagnetDesign, speed: number, load: TerminalLoad): Terminals {
  const e = emf(machine, speed)
  const reactance = machine.polePairs * speed * machine.inductance
  const { resistance } = machine
  // (a·V + b)² + (c·V + d)² = E²
  const a = 1 + load.conductance * resistance
  const b = load.current * resistance
  const c = load.conductance * reactance
  const d = load.current * reactance
  const square = a ** 2 + c ** 2
  const half = a * b + c * d
  const inner = half ** 2 - square * (b ** 2 + d ** 2 - e ** 2)
  const voltage = (Math.sqrt(Math.max(0, inner)) - half) / square
  if (inner < 0 || voltage < 0) {
    const shorted = e / Math.hypot(resistance, reactance)
    return { voltage: 0, current: shorted, copperLoss: 3 * shorted ** 2 * resistance }
  }
  const current = load.current + load.conductance * voltage
  return { voltage, current, copperLoss: 3 * current ** 2 * resistance }
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
