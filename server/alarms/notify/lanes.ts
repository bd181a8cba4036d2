import { PRIORITY_RANK as RANK } from '../../wire/alarm.ts'
import { groupBy } from '../../wire/groupBy.ts'
import { type Delivery, pathId } from './delivery.ts'

/** What the order of messages depends on. */
export interface Queued extends Pick<Delivery, 'recipient' | 'channel' | 'incident' | 'priority'> {
  /** Place in the order in which messages first became due; undefined before. */
  turn: number | undefined
  attempts: number
  isSending: boolean
}

/** One that was refused so often no longer holds up what is of another incident: it may be its own fault. */
const YIELDS_AFTER = 4

/**
 * Those whose turn it is: on one way to one person nothing overtakes what is older, neither while that waits for another attempt
 * nor while it is under way. What is of high priority, with all of its incident, has a lane beside the rest.
 */
export function headsOf<One extends Queued>(queued: readonly One[]): One[] {
  const inTurn = queued.filter((one) => one.turn !== undefined).sort((a, b) => a.turn! - b.turn!)
  const incidents = groupBy(inTurn, (one) => `${pathId(one)}/${one.incident}`)
  const oldest = [...incidents.values()].map((all) => {
    const isUrgent = all.some((one) => one.priority === 'high')
    return { one: all[0]!, lane: `${pathId(all[0]!)}/${isUrgent ? 'high' : 'rest'}` }
  })
  return [...groupBy(oldest, ({ lane }) => lane).values()].flatMap((lane) => {
    const holding = lane.findIndex(({ one }) => one.attempts < YIELDS_AFTER || one.isSending)
    return lane.slice(0, holding < 0 ? lane.length : holding + 1).map(({ one }) => one)
  })
}

/** Over all lanes of a channel: the important first, then what was tried least, then what has waited longest. */
export function byImportance(a: Queued, b: Queued): number {
  return RANK[a.priority] - RANK[b.priority] || a.attempts - b.attempts || (a.turn ?? 0) - (b.turn ?? 0)
}

/** Whether the first is the less important one. */
export function lessImportant(a: Pick<Queued, 'priority'>, b: Pick<Queued, 'priority'>): boolean {
  return RANK[a.priority] > RANK[b.priority]
}
