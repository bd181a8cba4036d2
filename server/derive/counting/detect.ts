/** What must be remembered to tell a new event from the one that goes on. */
export interface EventMemory {
  /** Null until it was judged for the first time: what went on before counting began is no event. */
  isOn: boolean | null
  /** Since when [ms UTC] the condition has differed from `isOn` without interruption; null while it agrees. */
  turningSince: number | null
  /** Time of the last judgement [ms UTC]. */
  at: number | null
}

export const NOTHING_SEEN: EventMemory = { isOn: null, turningSince: null, at: null }

export interface Holds {
  /** The condition must hold this long [ms] before an event counts: a flicker is no event. */
  onMs: number
  /** It must be absent this long [ms] before the next event can begin. */
  offMs: number
  /** Beyond this time [ms] without a judgement nobody knows whether it held without interruption. */
  gapMs: number
}

/**
 * One judgement of an event's condition, with on- and off-delay.
 *
 * @param condition Undefined where nobody can tell; then nothing changes.
 * @returns The memory afterwards and, when an event is now certain, the moment [ms UTC] at which it began.
 * Source: on-delay and off-delay as in IEC 62682; common practice for starts counters, no source.
 */
export function observe(
  memory: EventMemory,
  { at, condition }: { at: number; condition: boolean | undefined },
  holds: Holds,
): { memory: EventMemory; began: number | null } {
  if (condition === undefined || (memory.at !== null && at <= memory.at)) return { memory, began: null }
  const settled = { isOn: condition, turningSince: null, at }
  if (memory.isOn === null || memory.isOn === condition)
    return { memory: { ...settled, isOn: condition }, began: null }
  const isBroken = memory.at === null || at - memory.at > holds.gapMs
  const turningSince = isBroken ? at : (memory.turningSince ?? at)
  if (at - turningSince < (condition ? holds.onMs : holds.offMs))
    return { memory: { isOn: memory.isOn, turningSince, at }, began: null }
  return { memory: settled, began: condition ? turningSince : null }
}
