import type { AlarmKind } from './kind.ts'

/** Present at or above the limit; gone again below limit − deadband. */
export const high: AlarmKind = {
  id: 'high',
  holds: (value, { limit, deadband }, wasPresent) => value >= (wasPresent ? limit - deadband : limit),
  isWorse: (a, b) => a > b,
  isRaw: false,
  relation: 'at or above',
}
