import type { Broker } from '../../../ingest/broker/broker.ts'
import type { SubscriptionStore } from '../subscriptions.ts'

/** What channels are built with. */
export interface ChannelTools {
  /** Password or key of this channel, where one was given. */
  secret: string | undefined
  now: () => number
  broker: Pick<Broker, 'publish' | 'status'>
  subscriptions: SubscriptionStore
  /** Shorter in tests. */
  answerLimitMs?: number
}
