export interface SynchronousDesign {
  /** Phase voltage that the regulator holds [V]. */
  ratedVoltage: number
  ratedSpeed: number
  /** Per phase at rated frequency [Ω]. */
  synchronousReactance: number
  transientReactance: number
  /** Open-circuit field time constant [s]. */
  fieldTimeConstant: number
}

/** Load on one phase as admittance G − jB [S]; lagging loads have positive B. */
export interface PhaseLoad {
  conductance: number
  susceptance: number
}

/** Regulator: field voltage per volt that is missing, and per volt and second. Ceiling three times rated. */
const PROPORTIONAL = 15
const INTEGRAL = 15
const CEILING = 3
/** Below this share of rated speed the regulator lowers the voltage with it, to spare the field. */
const KNEE = 0.94

/**
 * EMF behind the transient reactance, with the field circuit as its only state:
 * T'_d0 · dE'/dt = E_f − E' − (X_d − X'_d) · I_d. Armature resistance is part of the loss curve elsewhere.
 */
export function createSynchronousGenerator(machine: SynchronousDesign, initial: PhaseLoad) {
  // The flux and field that hold rated voltage at the initial load.
  let flux = machine.ratedVoltage / solve(1, machine.transientReactance, initial).voltage
  let integral = steadyField(machine, flux, initial)
  let voltage = machine.ratedVoltage
  let current = voltage * Math.hypot(initial.conductance, initial.susceptance)
  return {
    /** Phase voltage [V RMS]. */
    voltage: () => voltage,
    /** Phase current [A RMS]. */
    current: () => current,
    step(dt: number, speed: number, load: PhaseLoad): void {
      const share = Math.max(0, speed) / machine.ratedSpeed
      const solution = solve(flux * share, machine.transientReactance * share, load)
      voltage = solution.voltage
      current = voltage * Math.hypot(load.conductance, load.susceptance)
      const error = machine.ratedVoltage * Math.min(1, share / KNEE) - voltage
      const ceiling = CEILING * machine.ratedVoltage
      integral = Math.min(ceiling, Math.max(0, integral + INTEGRAL * error * dt))
      const field = Math.min(ceiling, Math.max(0, integral + PROPORTIONAL * error))
      const drop = (machine.synchronousReactance - machine.transientReactance) * solution.direct
      flux += ((field - flux - drop) * dt) / machine.fieldTimeConstant
    },
  }
}

/** Terminal voltage and direct-axis current: V = E'/|1 + jX'(G − jB)|, I_d across E'. */
function solve(emf: number, reactance: number, { conductance, susceptance }: PhaseLoad) {
  const real = 1 + reactance * susceptance
  const imaginary = reactance * conductance
  const squared = real ** 2 + imaginary ** 2
  const voltage = emf / Math.sqrt(squared)
  // −Im{I} with E' real and I = E'·(G − jB)/(real + j·imaginary)
  const direct = (emf * (susceptance * real + conductance * imaginary)) / squared
  return { voltage, direct }
}

function steadyField(machine: SynchronousDesign, flux: number, load: PhaseLoad): number {
  const { direct } = solve(flux, machine.transientReactance, load)
  return flux + (machine.synchronousReactance - machine.transientReactance) * direct
}
