import type { Journal } from '../alarms/journal.ts'
import type { HistoryStore } from '../history/store.ts'
import type { Broker } from '../ingest/broker/broker.ts'
import type { LivePlant } from '../livePlant.ts'
import type { Hub } from '../push/hub.ts'
import type { Trials } from '../trials/trials.ts'
import type { HealthReply } from '../wire/replies.ts'

/** What the routers need of the running server. */
export interface HttpContext {
  plants: () => ReadonlyMap<string, LivePlant>
  hub: Hub
  history: HistoryStore
  journal: Journal
  broker: Broker
  trials: Trials
  health: () => HealthReply
  now: () => number
}
