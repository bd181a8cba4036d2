import { granted, NOT_STORED, type Outcome, refuse } from '../outcome.ts'
import type { PointRun } from './capture/pointRun.ts'
import { type EntryWish, readManualPoint, readTypedValues } from './manualPoint.ts'
import type { PointMethod } from './runMethod.ts'
import type { KnownRun, RunStore } from './runStore.ts'
import { MOST_POINTS } from './takeStore.ts'

/** The two ways in which somebody types a point into a run under way. */
export function createEntries(store: RunStore, now: () => number) {
  return {
    /** A point that stands by itself: every value of it was typed. */
    enterWhole({ summary, method }: KnownRun, request: EntryWish): Outcome<{ number: number }> {
      const read = readManualPoint(request, method, now())
      if ('faults' in read) return refuse(400, 'The point cannot be used.', { faults: read.faults })
      const number = store.points(summary.id).length + 1
      if (number > MOST_POINTS) return refuse(409, `A run has at most ${MOST_POINTS} points. Start another.`)
      return store.addPoint(summary.id, { ...read.point, number }, null) ? granted({ number }) : NOT_STORED
    },
    /** What was typed to the present steady state. */
    enterPresent(
      under: PointRun,
      method: PointMethod,
      { by, measuredBy, ...request }: EntryWish,
    ): Outcome<{ number: number }> {
      const read = readTypedValues(request, method)
      if ('faults' in read) return refuse(400, 'The value cannot be used.', { faults: read.faults })
      const entered = under.enterPresent({
        by,
        ...(measuredBy === undefined ? {} : { measuredBy }),
        now: now(),
        typed: read.typed,
      })
      return 'refused' in entered ? refuse(409, `Not stored. ${entered.refused}`) : granted(entered)
    },
  }
}
