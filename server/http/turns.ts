import type { IncomingMessage } from 'node:http'
import type { Access } from '../access/openAccess.ts'
import { createTurns, type Turns } from '../turns.ts'

/** What costs much is done in turn by who asks for it. */
export interface CostlyTurns {
  history: Turns
  /** Reports of alarms, packs and records. */
  reports: Turns
}

const full = 'Too many questions of others are waiting. Try again in two seconds.'

export function createCostlyTurns(): CostlyTurns {
  return {
    // The store reads one answer after the other: a newcomer waits for no more than those under way.
    // A plant's page asks for all its trends at once, and people have it open more than once.
    history: createTurns({
      name: 'questions to history',
      atOnce: 3,
      waiting: 200,
      each: { underWay: 2, waiting: 40 },
      full,
    }),
    reports: createTurns({
      name: 'reports and packs',
      atOnce: 2,
      waiting: 50,
      each: { underWay: 1, waiting: 6 },
      full,
    }),
  }
}

/** Does what costs much when it is the turn of whoever asks. @throws {Busy} where too much of it waits already. */
export function inTurn<T>(
  { turns, access, of = 'reports' }: { turns: CostlyTurns; access: Access; of?: keyof CostlyTurns },
  request: IncomingMessage,
  task: () => Promise<T>,
): Promise<T> {
  return turns[of].take(task, { from: access.requester(request).key, isKnown: false })
}
