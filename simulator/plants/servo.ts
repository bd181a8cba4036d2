/** Something that travels towards a target at a limited rate: a valve, a spear, vanes, a drive. */
export function createServo(initial: number) {
  let position = initial
  return {
    position: () => position,
    /** `rate` [1/s]: share of the stroke per second. */
    step(dt: number, target: number, rate: number): void {
      const travel = rate * dt
      position += Math.min(Math.max(target - position, -travel), travel)
    },
  }
}
