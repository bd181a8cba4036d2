import { currentAtVoltage, type PermanentMagnetDesign, terminals } from './permanentMagnetGenerator.ts'

export interface ChargerDesign {
  rectifierEfficiency: number
  converterEfficiency: number
  /** Input window of the converter [V DC]. */
  lowestInput: number
  highestInput: number
  /** Output limit [A DC]. */
  highestOutput: number
  /** It lets go above this battery voltage and comes back below `restartBattery`. */
  highestBattery: number
  restartBattery: number
}

export interface ChargerInputs {
  isOn: boolean
  speed: number
  /** Speed to hold [rad/s]. */
  setPoint: number
  batteryVoltage: number
}

/** Diode bridge: mean voltage 1.35 × line voltage less two diode drops. */
const BRIDGE = 1.35 * Math.sqrt(3)
const DIODES = 1.5
const PROPORTIONAL = 0.2
const INTEGRAL = 0.3
const CURRENT_LAG = 0.02

/** Mean rectified voltage [V] of a phase voltage [V RMS]. */
export function rectifiedVoltage(phaseVoltage: number): number {
  return Math.max(0, BRIDGE * phaseVoltage - DIODES)
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
  const lowestPhase = (design.lowestInput + DIODES) / BRIDGE
  const highestCurrent = ({ isOn, speed, batteryVoltage }: ChargerInputs) => {
    const output = terminals(machine, speed, current)
    const openVoltage = rectifiedVoltage(output.voltage)
    if (!isOn || isLocked || openVoltage > design.highestInput) return 0
    const share = design.rectifierEfficiency * design.converterEfficiency
    const mostPower = (design.highestOutput * batteryVoltage) / share
    const byOutput = mostPower / (3 * Math.max(output.voltage, lowestPhase))
    return Math.min(byOutput, currentAtVoltage(machine, speed, lowestPhase))
  }
  return {
    /** Generator phase current [A RMS]. */
    current: () => current,
    step(dt: number, inputs: ChargerInputs): void {
      if (inputs.batteryVoltage > design.highestBattery) isLocked = true
      if (inputs.batteryVoltage < design.restartBattery) isLocked = false
      const limit = highestCurrent(inputs)
      const error = inputs.speed - inputs.setPoint
      integral = Math.min(limit, Math.max(0, integral + INTEGRAL * error * dt))
      const wanted = Math.min(limit, Math.max(0, integral + PROPORTIONAL * error))
      // An opened contactor interrupts at once; a converter needs its time.
      current = limit === 0 ? 0 : current + ((wanted - current) * dt) / CURRENT_LAG
    },
  }
}
