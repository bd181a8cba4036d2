/** Something that travels towards a target at a limited rate: a valve, a spear, vanes, a drive. */
export interface Servo {
  position(): number
  /** `rate` [1/s]: share of the stroke per second. */
  step(dt: number, target: number, rate: number): void
}

export function createServo(initial: number): Servo {
  let position = initial
  return {
    position: () => position,
    step(dt, target, rate) {
      const travel = rate * dt
      position += Math.min(Math.max(target - position, -travel), travel)
    },
  }
}
