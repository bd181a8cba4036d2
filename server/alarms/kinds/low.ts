import { levelKind } from './level.ts'

/** Present at or below the limit; gone again above limit + deadband. */
export const low = levelKind({
  id: 'low',
  relation: 'at or below',
  isBeyond: (value, limit) => value <= limit,
  sign: -1,
})

/** The second, worse level: the same rule, its own priority and action. */
export const lowLow = { ...low, id: 'lowLow' }
