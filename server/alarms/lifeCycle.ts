import { type AlarmState, type AnnouncedState, isUnacknowledged } from '../wire/alarm.ts'

/** What can happen to an alarm that is announced. */
export type AlarmEvent = 'raise' | 'return' | 'acknowledge' | 'reset' | 'toldLate'

/** What takes an alarm off the list, and puts it back. */
export type WithholdEvent = 'shelve' | 'unshelve' | 'takeOut' | 'putBack' | 'suppress' | 'unsuppress'

/** All that the life cycle knows. */
export interface Life {
  announced: AnnouncedState
  shelved: boolean
  /** Suppressed by design: the plant file says that the condition means nothing now. */
  suppressed: boolean
  outOfService: boolean
}

export const NEW_LIFE: Life = { announced: 'normal', shelved: false, suppressed: false, outOfService: false }

/**
 * Next state of an alarm, or undefined where the event does nothing in this state. Acknowledging never clears
 * a condition that holds; a latched alarm is reset only after it was acknowledged and the condition is gone.
 *
 * Source: the state diagram of IEC 62682 / ISA-18.2 (from memory; letters A–F there are the states here in order).
 */
export function nextState(
  state: AnnouncedState,
  event: AlarmEvent,
  isLatching: boolean,
): AnnouncedState | undefined {
  const next = TABLE[state][event]
  return typeof next === 'function' ? next(isLatching) : next
}

type Next = AnnouncedState | ((isLatching: boolean) => AnnouncedState)

/** It was over before anybody heard of it: it never looks live, and waits for whoever answers. */
const PAST: Next = (isLatching) => (isLatching ? 'latchedUnacknowledged' : 'returnedUnacknowledged')

const TABLE: Record<AnnouncedState, Partial<Record<AlarmEvent, Next>>> = {
  normal: { raise: 'unacknowledged', toldLate: PAST },
  unacknowledged: {
    toldLate: 'unacknowledged',
    acknowledge: 'acknowledged',
    return: (isLatching) => (isLatching ? 'latchedUnacknowledged' : 'returnedUnacknowledged'),
  },
  acknowledged: {
    toldLate: 'acknowledged',
    return: (isLatching) => (isLatching ? 'latchedAcknowledged' : 'normal'),
  },
  returnedUnacknowledged: { acknowledge: 'normal', raise: 'unacknowledged', toldLate: PAST },
  latchedUnacknowledged: { acknowledge: 'latchedAcknowledged', raise: 'unacknowledged', toldLate: PAST },
  latchedAcknowledged: { reset: 'normal', raise: 'unacknowledged', toldLate: PAST },
}

/** The whole life: as `nextState`, and nothing is announced while shelved or out of service. */
export function nextLife(
  life: Life,
  event: AlarmEvent | WithholdEvent,
  isLatching: boolean,
): Life | undefined {
  switch (event) {
    case 'shelve':
      return isWithheld(life) ? undefined : { ...withhold(life, isLatching), shelved: true }
    case 'unshelve':
      return life.shelved ? { ...life, shelved: false } : undefined
    case 'takeOut':
      return life.outOfService
        ? undefined
        : { ...withhold(life, isLatching), shelved: false, outOfService: true }
    case 'putBack':
      return life.outOfService ? { ...life, outOfService: false } : undefined
    case 'suppress':
      return life.suppressed ? undefined : { ...life, suppressed: true }
    case 'unsuppress':
      return life.suppressed ? { ...life, suppressed: false } : undefined
    default: {
      const announced = isWithheld(life) ? undefined : nextState(life.announced, event, isLatching)
      return announced && { ...life, announced }
    }
  }
}

/** What latches stays latched: shelving must not do away with the reset that somebody owes. */
function withhold(life: Life, isLatching: boolean): Life {
  const isSeen = !isUnacknowledged(life.announced)
  if (isLatching && life.announced !== 'normal')
    return { ...life, announced: isSeen ? 'latchedAcknowledged' : 'latchedUnacknowledged' }
  return { ...life, announced: 'normal' }
}

/** The state as people see it. What waits for an acknowledgement or reset is never hidden by suppression. */
export function shownState({ announced, shelved, suppressed, outOfService }: Life): AlarmState {
  if (outOfService) return 'outOfService'
  if (shelved) return 'shelved'
  return suppressed && announced === 'normal' ? 'suppressed' : announced
}

/** Somebody took it off the list. */
export function isWithheld(life: Life): boolean {
  return life.shelved || life.outOfService
}

/** The condition holds in these states. */
export function isActive(state: AlarmState): boolean {
  return state === 'unacknowledged' || state === 'acknowledged'
}
