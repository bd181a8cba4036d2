import { createAllowance, type Rate } from '../allowance.ts'

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

/**
 * What comes and goes with every reading comes at once each time it was over, but is over no more often than this: each step is a
 * row of the journal and messages to people.
 */
const ENDS: Rate = { perSecond: 1, burst: 60 }

export function createDelay(onDelayMs: number, offDelayMs: number, present = false): Delay {
  let isPresent = present
  let differsSince: number | undefined
  let now = 0
  const ends = createAllowance(ENDS, () => now)
  return {
    update(holds, mono) {
      now = mono
      if (holds === isPresent) {
        differsSince = undefined
        return isPresent
      }
      differsSince ??= mono
      if (mono - differsSince >= (holds ? onDelayMs : offDelayMs) && (holds || ends.take())) {
        isPresent = holds
        differsSince = undefined
      }
      return isPresent
    },
    isRising: () => !isPresent && differsSince !== undefined,
  }
}
