import type { IncomingMessage } from 'node:http'
import type { Access, Actor } from '../access/openAccess.ts'
import type { ActedBy } from '../alarms/alarm.ts'
import type { EventStore } from '../alarms/events/eventStore.ts'
import type { Journal } from '../alarms/journal.ts'
import type { Notify } from '../alarms/notify/openNotify.ts'
import type { HistoryStore } from '../history/store.ts'
import type { Broker } from '../ingest/broker/broker.ts'
import type { Lessons } from '../lessons/lessons.ts'
import type { LivePlant } from '../livePlant.ts'
import type { Hub } from '../push/hub.ts'
import type { Replays } from '../replay/replays.ts'
import type { Trials } from '../trials/trials.ts'
import type { HealthReply } from '../wire/replies.ts'
import { HttpFault } from './errors.ts'

/** What the routers need of the running server. */
export interface HttpContext {
  plants: () => ReadonlyMap<string, LivePlant>
  hub: Hub
  history: HistoryStore
  journal: Journal
  events: EventStore
  notify: Notify
  broker: Broker
  trials: Trials
  replays: Replays
  lessons: Lessons
  health: () => HealthReply
  now: () => number
  access: Access
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
