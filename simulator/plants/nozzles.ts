import { createServo, type Servo } from './servo.ts'

/** A set of nozzles, each with its own valve or spear. */
export interface Nozzles {
  /** Opening of each, 0 … 1. */
  openings(): number[]
  /** Sum of the openings: how many jets' worth of water runs. */
  total(): number
  /** Head per discharge squared of all together [s²/m⁵]; Infinity when all are shut. */
  resistance(): number
  step(dt: number, targets: readonly number[], rate: number): void
}

/**
 * Each nozzle discharges Q = opening · Q_full · √(H / H_full).
 *
 * @param full Discharge [m³/s] of one fully open nozzle at head [m]. For a bored nozzle Q_full is
 *   C_d · A · √(2gH).
 */
export function createNozzles(
  full: { discharge: number; head: number },
  initial: readonly number[],
): Nozzles {
  const servos: Servo[] = initial.map(createServo)
  const total = () => servos.reduce((sum, servo) => sum + servo.position(), 0)
  return {
    openings: () => servos.map((servo) => servo.position()),
    total,
    resistance: () => full.head / (total() * full.discharge) ** 2,
    step(dt, targets, rate) {
      servos.forEach((servo, i) => {
        servo.step(dt, targets[i]!, rate)
      })
    },
  }
}
