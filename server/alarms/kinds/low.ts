import type { AlarmKind } from './kind.ts'

/** Present at or below the limit; gone again above limit + deadband. */
export const low: AlarmKind = {
  id: 'low',
  holds: (value, { limit, deadband }, wasPresent) => value <= (wasPresent ? limit + deadband : limit),
  isWorse: (a, b) => a < b,
  isRaw: false,
  relation: 'at or below',
}
