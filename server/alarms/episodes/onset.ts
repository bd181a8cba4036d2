import type { Onset } from '../../wire/alarm.ts'
import type { ConditionState } from '../inputs.ts'

/**
 * When a condition began, as far as its instrument can tell: at the reading that showed it, or up to one period before, since
 * nobody looked in between. Delays of the alarm do not count: what came first is asked of the plant, not of its alarms.
 *
 * @param periodMs Time between two readings [ms]; 0 for what is sent on change.
 */
export function createOnset(periodMs: number): {
  update(condition: Pick<ConditionState, 'holds' | 'at' | 'since'>): void
  /** Undefined while it does not hold. */
  span(): Onset | undefined
} {
  let span: Onset | undefined
  return {
    update({ holds, at, since }) {
      if (holds === false) span = undefined
      else if (holds && (span === undefined || at < span.to)) {
        const to = since ?? at
        span = { from: to - periodMs, to }
      }
    },
    span: () => span,
  }
}
