/**
 * Hard-wired switch: trips when a level is passed, after its own delay and stays tripped until it is reset.
 *
 * @param delay From the level being passed to the contact having moved [s].
 */
export function createTripSwitch(delay: number) {
  let tripped = false
  let beyondFor = 0
  return {
    isTripped: () => tripped,
    reset(): void {
      tripped = false
      beyondFor = 0
    },
    step(dt: number, isBeyond: boolean): void {
      beyondFor = isBeyond ? beyondFor + dt : 0
      if (beyondFor >= delay && isBeyond) tripped = true
    },
  }
}
