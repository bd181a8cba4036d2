import { levelKind } from './level.ts'

/** Present at or above the limit; gone again below limit − deadband. */
export const high = levelKind({
  id: 'high',
  relation: 'at or above',
  isBeyond: (value, limit) => value >= limit,
  sign: 1,
})

/** The second, worse level: the same rule, its own priority and action. */
export const highHigh = { ...high, id: 'highHigh' }
