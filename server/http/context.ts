import type { IncomingMessage } from 'node:http'
import type { Access, Actor } from '../access/openAccess.ts'
import type { ActedBy } from '../alarms/alarm.ts'
import type { EventReader } from '../alarms/events/eventStore.ts'
import type { JournalReader } from '../alarms/journal.ts'
import type { Ask } from '../channel/questions.ts'
import type { HistoryReader } from '../history/store.ts'
import type { Lessons } from '../lessons/lessons.ts'
import type { Tell } from '../log.ts'
import type { ShownPlant } from '../mirror/shownPlant.ts'
import type { Outcome } from '../outcome.ts'
import type { Hub } from '../push/hub.ts'
import type { Replays } from '../replay/replays.ts'
import type { Trials } from '../trials/trials.ts'
import type { HealthReply } from '../wire/replies.ts'
import { HttpFault } from './errors.ts'
import type { CostlyTurns } from './turns.ts'

/** What the routers need of the running server. */
export interface HttpContext {
  plants: () => ReadonlyMap<string, ShownPlant>
  hub: Hub
  /** What the watch alone knows or may do. */
  ask: Ask
  history: HistoryReader
  journal: JournalReader
  events: EventReader
  trials: Trials
  replays: Replays
  lessons: Lessons
  /** Rates, queues and faults of the whole. */
  health: () => Promise<Outcome<HealthReply>>
  now: () => number
  access: Access
  turns: CostlyTurns
  /** The log. */
  tell: Tell
}

/** Who is doing this; the gate has let nobody through who may not. @throws {HttpFault} 401 */
export function actorOf({ access }: HttpContext, request: IncomingMessage): Actor {
  const actor = access.actor(request)
  if (!actor) throw new HttpFault(401, { error: 'Sign in first.' })
  return actor
}

/** Who acts and from where, for the journal. @throws {HttpFault} 401 */
export function actedBy(context: HttpContext, request: IncomingMessage, note?: string): ActedBy {
  const { name, address } = actorOf(context, request)
  const isPage = request.headers.origin !== undefined || request.headers['sec-fetch-site'] !== undefined
  return {
    by: name,
    at: context.now(),
    via: `${isPage ? 'page' : 'program'} at ${address}`,
    ...(note === undefined ? {} : { note }),
  }
}
