import type { Broker } from '../../../ingest/broker/broker.ts'
import type { AlertPathView } from '../../../wire/notifications.ts'
import type { Delivery } from '../delivery.ts'
import type { SubscriptionStore } from '../subscriptions.ts'

/** A message on its way out. */
export interface Outgoing {
  delivery: Delivery
  recipient: { id: string; name: string; to: string | undefined }
  /** Everything, ready to be read. */
  text: string
  /** Opens the page that acknowledges. */
  acknowledgeUrl: string | undefined
  pageUrl: string | undefined
}

/** What became of one attempt. */
export type SendResult =
  | { status: 'sent' }
  /** Try again; not before `afterMs` where the other side asked for that. */
  | { status: 'retry'; reason: string; afterMs?: number }
  /** Never try this one again; with `disable`, send nothing over this channel any more. */
  | { status: 'failed'; reason: string; disable?: true }

/** What is posted, and how long its answer may take. */
export interface PostOptions {
  headers: Record<string, string>
  body: string | Uint8Array<ArrayBuffer>
  limitMs: number
  now: number
}

/** A way out. Each has one file, with its fields in the notification file, and its lines in index.ts. */
export interface Channel {
  id: string
  kind: string
  /** Most messages under way at once: a receiver that answers slowly holds up as few others as possible. */
  lanes: number
  provenBy: AlertPathView['provenBy']
  /** Where it goes, without secrets and without an address in full. */
  describe(to: string | undefined): string
  /** Changes when it leads somewhere else, so that an end that was gone is tried again. */
  target: string
  /** Never rejects for what the other side does; has time-outs of its own. */
  send(message: Outgoing): Promise<SendResult>
  close?(): void
}

/** What channels are built with. */
export interface ChannelTools {
  /** Password or key of this channel, where one was given. */
  secret: string | undefined
  now: () => number
  broker: Pick<Broker, 'publish' | 'status'>
  subscriptions: SubscriptionStore
  /** How push services are reached; tests have one on this machine. */
  postToBrowser?: (url: string, options: PostOptions) => Promise<SendResult>
  /** Shorter in tests. */
  answerLimitMs?: number
}
