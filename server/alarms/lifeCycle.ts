import type { AlarmState } from '../wire/alarm.ts'

/** What can happen to an alarm. */
export type AlarmEvent = 'raise' | 'return' | 'acknowledge' | 'reset'

/**
 * Next state of an alarm, or undefined where the event does nothing in this state. Acknowledging never clears
 * a condition that holds; a latched alarm is reset only after it was acknowledged and the condition is gone.
 *
 * Source: the state diagram of IEC 62682 / ISA-18.2 (from memory; letters A–F there are the states here in order).
 */
export function nextState(state: AlarmState, event: AlarmEvent, isLatching: boolean): AlarmState | undefined {
  const next = TABLE[state][event]
  return typeof next === 'function' ? next(isLatching) : next
}

type Next = AlarmState | ((isLatching: boolean) => AlarmState)

const TABLE: Record<AlarmState, Partial<Record<AlarmEvent, Next>>> = {
  normal: { raise: 'unacknowledged' },
  unacknowledged: {
    acknowledge: 'acknowledged',
    return: (isLatching) => (isLatching ? 'latchedUnacknowledged' : 'returnedUnacknowledged'),
  },
  acknowledged: { return: (isLatching) => (isLatching ? 'latchedAcknowledged' : 'normal') },
  returnedUnacknowledged: { acknowledge: 'normal', raise: 'unacknowledged' },
  latchedUnacknowledged: { acknowledge: 'latchedAcknowledged', raise: 'unacknowledged' },
  latchedAcknowledged: { reset: 'normal', raise: 'unacknowledged' },
}

/** The condition holds in these states. */
export function isActive(state: AlarmState): boolean {
  return state === 'unacknowledged' || state === 'acknowledged'
}

export function isUnacknowledged(state: AlarmState): boolean {
  return state === 'unacknowledged' || state === 'returnedUnacknowledged' || state === 'latchedUnacknowledged'
}
