import type { AlarmKind } from './kind.ts'
import { watchFigure } from './watchFigure.ts'

/** Present at or above the limit; gone again below limit − deadband. */
export const high = levelKind('high', {
  relation: 'at or above',
  isBeyond: (value, limit) => value >= limit,
  sign: 1,
})

/** The second, worse level: the same rule, its own priority and action. */
export const highHigh = { ...high, id: 'highHigh' }

/** Present at or below the limit; gone again above limit + deadband. */
export const low = levelKind('low', {
  relation: 'at or below',
  isBeyond: (value, limit) => value <= limit,
  sign: -1,
})

/** The second, worse level: the same rule, its own priority and action. */
export const lowLow = { ...low, id: 'lowLow' }

/** Which side of the limit is the bad one. */
interface Side {
  /** Words between figure and limit. */
  relation: string
  isBeyond: (value: number, limit: number) => boolean
  /** +1: worse when higher. */
  sign: 1 | -1
}

/** Kinds that hold a figure against one limit: present at or beyond it, gone again a deadband inside. */
function levelKind(id: string, { relation, isBeyond, sign }: Side): AlarmKind {
  return {
    id,
    hasAmount: true,
    hasLevel: true,
    isForSafety: false,
    needs: ['figure', 'limit'],
    may: ['deadband'],
    read(fields) {
      const limit = fields.level('limit')
      const deadband = fields.deadband(limit)
      const figure = fields.figure.id
      return {
        condition: `${relation} ${fields.file.limit}`,
        limit,
        uses: [figure],
        open: (inputs) =>
          watchFigure(figure, inputs, {
            holds: (value, wasHeld) => isBeyond(value, wasHeld ? limit - sign * deadband : limit),
            takesBeyondRange: true,
            isWorse: (a, b) => sign * (a - b) > 0,
          }),
      }
    },
  }
}
