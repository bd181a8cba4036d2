import { interpolate } from './interpolate.ts'

export interface BatteryDesign {
  cells: number
  /** [C] */
  capacity: number
  /** Of the whole string [Ω]. */
  resistance: number
  /** Share of the charge put in that can be taken out. */
  chargeEfficiency: number
}

/** Rest voltage of one lithium iron phosphate cell over state of charge (common practice, no source). */
const REST_VOLTAGE = [
  [0, 2.5],
  [0.02, 2.95],
  [0.05, 3.1],
  [0.1, 3.2],
  [0.2, 3.25],
  [0.4, 3.29],
  [0.6, 3.31],
  [0.8, 3.335],
  [0.9, 3.345],
  [0.97, 3.39],
  [1, 3.5],
  [1.02, 3.8],
] as const

/** Rest voltage behind one resistance; charge is counted. */
export function createBattery(design: BatteryDesign, initialCharge: number) {
  let stateOfCharge = initialCharge
  let current = 0
  let stored = 0
  const openVoltage = () => design.cells * interpolate(REST_VOLTAGE, stateOfCharge)
  const accepted = () => (current > 0 ? current * design.chargeEfficiency : current)
  return {
    /** At the terminals [V]. */
    voltage: () => openVoltage() + current * design.resistance,
    /** Positive when charging [A]. */
    current: () => current,
    /** 0 … 1 */
    stateOfCharge: () => stateOfCharge,
    /** Chemical energy put in since the start [J]. */
    storedEnergy: () => stored,
    /** Heat in the cells [W]. */
    loss: () => current ** 2 * design.resistance + openVoltage() * (current - accepted()),
    step(dt: number, next: number): void {
      current = next
      stored += openVoltage() * accepted() * dt
      stateOfCharge += (accepted() * dt) / design.capacity
    },
  }
}
