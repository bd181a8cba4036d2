/**
 * On-delay and off-delay of a condition. A delay belongs to one uninterrupted run: when the condition clears
 * before the on-delay is over, the next run starts from nothing.
 */
export interface Delay {
  /**
   * @param holds Whether the condition holds at this instant.
   * @param mono Monotonic time [ms].
   * @returns Whether the alarm condition counts as present.
   */
  update(holds: boolean, mono: number): boolean
  /** Whether a condition holds whose on-delay is not over. */
  isRising(): boolean
}

export function createDelay(onDelayMs: number, offDelayMs: number, present = false): Delay {
  let isPresent = present
  let differsSince: number | undefined
  return {
    update(holds, mono) {
      if (holds === isPresent) {
        differsSince = undefined
        return isPresent
      }
      differsSince ??= mono
      if (mono - differsSince >= (holds ? onDelayMs : offDelayMs)) {
        isPresent = holds
        differsSince = undefined
      }
      return isPresent
    },
    isRising: () => !isPresent && differsSince !== undefined,
  }
}
