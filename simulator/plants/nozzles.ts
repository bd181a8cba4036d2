import { createServo } from './parts.ts'

/**
 * A set of nozzles, each with its own valve or spear: each discharges Q = opening · Q_full · √(H / H_full).
 *
 * @param full Discharge [m³/s] of one fully open nozzle at head [m]. For a bored nozzle Q_full is
 *   C_d · A · √(2gH).
 */
export function createNozzles(full: { discharge: number; head: number }, initial: readonly number[]) {
  const servos = initial.map(createServo)
  const total = () => servos.reduce((sum, servo) => sum + servo.position(), 0)
  return {
    /** Opening of each, 0 … 1. */
    openings: () => servos.map((servo) => servo.position()),
    /** Sum of the openings: how many jets' worth of water runs. */
    total,
    /** Head per discharge squared of all together [s²/m⁵]; Infinity when all are shut. */
    resistance: () => full.head / (total() * full.discharge) ** 2,
    step(dt: number, targets: readonly number[], rate: number): void {
      servos.forEach((servo, i) => {
        servo.step(dt, targets[i]!, rate)
      })
    },
  }
}
