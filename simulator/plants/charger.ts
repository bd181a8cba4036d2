import { currentAtVoltage, type PermanentMagnetDesign, terminals } from './permanentMagnetGenerator.ts'

export interface ChargerDesign {
  rectifierEfficiency: number
  converterEfficiency: number
  /** Of the two diodes that carry current at a time [V]. */
  diodeDrop: number
  /** Input window of the converter [V DC]. */
  lowestInput: number
  highestInput: number
  /** Output limit [A DC]. */
  highestOutput: number
  /** It lets go above this battery voltage and comes back below `restartBattery`. */
  highestBattery: number
  restartBattery: number
  /** Of the speed regulator [A·s/rad, A/rad]. */
  proportional: number
  integral: number
}

export interface ChargerInputs {
  isOn: boolean
  speed: number
  /** Speed to hold [rad/s]. */
  setPoint: number
  batteryVoltage: number
  /** Resistors beside it on the terminals, per phase [S]. */
  conductance: number
}

/** Diode bridge: mean voltage 1.35 × line voltage less two diode drops. */
const BRIDGE = 1.35 * Math.sqrt(3)
const CURRENT_LAG = 0.02

/** Mean rectified voltage [V] of a phase voltage [V RMS]. */
export function rectifiedVoltage({ diodeDrop }: ChargerDesign, phaseVoltage: number): number {
  return Math.max(0, BRIDGE * phaseVoltage - diodeDrop)
}

/**
 * Rectifier and step-down converter: it loads the generator just enough to hold the speed.
 *
 * @param initialCurrent Phase current [A] that it starts with, so that a run can begin in steady state.
 */
export function createCharger(design: ChargerDesign, machine: PermanentMagnetDesign, initialCurrent: number) {
  let current = initialCurrent
  let integral = initialCurrent
  let isLocked = false
  const lowestPhase = (design.lowestInput + design.diodeDrop) / BRIDGE
  const share = design.rectifierEfficiency * design.converterEfficiency
  const highestCurrent = ({ isOn, speed, batteryVoltage, conductance }: ChargerInputs) => {
    if (!isOn || isLocked) return 0
    const { voltage } = terminals(machine, speed, { current, conductance })
    if (rectifiedVoltage(design, voltage) > design.highestInput) return 0
    const mostPower = (design.highestOutput * batteryVoltage) / share
    const byOutput = mostPower / (3 * Math.max(voltage, lowestPhase))
    const byInput = currentAtVoltage(machine, speed, lowestPhase) - conductance * lowestPhase
    return Math.max(0, Math.min(byOutput, byInput))
  }
  return {
    /** Generator phase current [A RMS]. */
    current: () => current,
    step(dt: number, inputs: ChargerInputs): void {
      if (inputs.batteryVoltage > design.highestBattery) isLocked = true
      if (inputs.batteryVoltage < design.restartBattery) isLocked = false
      const limit = highestCurrent(inputs)
      const error = inputs.speed - inputs.setPoint
      integral = Math.min(limit, Math.max(0, integral + design.integral * error * dt))
      const wanted = Math.min(limit, Math.max(0, integral + design.proportional * error))
      // An opened contactor interrupts at once; a converter needs its time.
      current = limit === 0 ? 0 : current + ((wanted - current) * dt) / CURRENT_LAG
    },
  }
}
