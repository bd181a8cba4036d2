import { interpolate } from './interpolate.ts'
import { createThermalNode, type Warming } from './parts.ts'

export interface BatteryDesign {
  cells: number
  /** [C] */
  capacity: number
  /** Of the whole string [Ω]. */
  resistance: number
  /** Share of the charge put in that can be taken out. */
  chargeEfficiency: number
  /** State of charge that it begins with, 0 … 1. */
  charge: number
  /** Its rated heat is that of a current that fills it in five hours. */
  warming: Warming
  airTemperature: number
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

/** Of a rated charge current [s]. */
const FIVE_HOURS = 5 * 3600

/** Rest voltage behind one resistance; charge is counted. */
export function createBattery(design: BatteryDesign) {
  let stateOfCharge = design.charge
  let current = 0
  let stored = 0
  const openVoltage = () => design.cells * interpolate(REST_VOLTAGE, stateOfCharge)
  const accepted = () => (current > 0 ? current * design.chargeEfficiency : current)
  /** At the terminals [V]. */
  const voltage = () => openVoltage() + current * design.resistance
  /** Heat in the cells [W]. */
  const loss = () => current ** 2 * design.resistance + openVoltage() * (current - accepted())
  const cells = createThermalNode(design.warming, {
    heat:
      (design.capacity / FIVE_HOURS) ** 2 * design.resistance +
      openVoltage() * (design.capacity / FIVE_HOURS) * (1 - design.chargeEfficiency),
    air: design.airTemperature,
    share: 0.2,
  })
  return {
    voltage,
    loss,
    /** 0 … 1 */
    stateOfCharge: () => stateOfCharge,
    /** Chemical energy put in since the start [J]. */
    storedEnergy: () => stored,
    /** Positive when charging [A]. */
    truth: (): Record<string, number> => ({
      batteryVoltage: voltage(),
      batteryCurrent: current,
      batteryPower: voltage() * current,
      batteryTemperature: cells.temperature(),
      stateOfCharge,
    }),
    step(dt: number, next: number): void {
      current = next
      stored += openVoltage() * accepted() * dt
      stateOfCharge += (accepted() * dt) / design.capacity
      cells.step(dt, loss())
    },
  }
}
