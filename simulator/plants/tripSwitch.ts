/** Hard-wired switch: trips when a level is passed, after its own delay and stays tripped until it is reset. */
export interface TripSwitch {
  isTripped(): boolean
  reset(): void
  step(dt: number, isBeyond: boolean): void
}

/** @param delay From the level being passed to the contact having moved [s]. */
export function createTripSwitch(delay: number): TripSwitch {
  let tripped = false
  let beyondFor = 0
  return {
    isTripped: () => tripped,
    reset() {
      tripped = false
      beyondFor = 0
    },
    step(dt, isBeyond) {
      beyondFor = isBeyond ? beyondFor + dt : 0
      if (beyondFor >= delay && isBeyond) tripped = true
    },
  }
}
