import type { IncomingMessage } from 'node:http'
import type { Access } from '../access/openAccess.ts'
import { createFairTurns, type FairTurns } from '../fairTurns.ts'
import type { QueueHealth } from '../wire/replies.ts'
import { given } from './errors.ts'

/** What costs much is done in turn by who asks for it. */
export interface Turns {
  history: FairTurns
  /** Reports of alarms, packs and records. */
  reports: FairTurns
  queues(): QueueHealth[]
}

export function createTurns(): Turns {
  // The store reads one answer after the other: a newcomer waits for no more than those under way.
  const history = createFairTurns({
    name: 'questions to history',
    atOnce: 3,
    underWay: 2,
    // A plant's page asks for all its trends at once, and people have it open more than once.
    waiting: 40,
    waitingOfAll: 200,
  })
  const reports = createFairTurns({
    name: 'reports and packs',
    atOnce: 2,
    underWay: 1,
    waiting: 6,
    waitingOfAll: 50,
  })
  return { history, reports, queues: () => [history.queue(), reports.queue()] }
}

/** Does what costs much when it is the turn of whoever asks. @throws {HttpFault} where too much of it waits already. */
export async function inTurn<T>(
  { turns, access, of = 'reports' }: { turns: Turns; access: Access; of?: 'history' | 'reports' },
  request: IncomingMessage,
  task: () => Promise<T>,
): Promise<T> {
  return given(await turns[of].take(access.requester(request).key, task))
}
