import type { AlarmPriority } from './alarm.ts'
import type { UtcMs } from './figure.ts'
import type { QueueHealth } from './replies.ts'

/** Why a message is sent. */
export type NoticeKind =
  | 'raised'
  | 'worse'
  | 'stillActive'
  | 'returned'
  | 'inputLost'
  | 'inputBack'
  | 'digest'
  | 'suppressed'
  | 'test'
  | 'testUnanswered'

/** waiting: for its time, or for another attempt · cancelled: somebody acknowledged before it was its turn. */
export type DeliveryStatus = 'waiting' | 'sent' | 'failed' | 'cancelled'

export interface DeliveryView {
  id: string
  kind: NoticeKind
  plant: string | null
  alarm: string | null
  priority: AlarmPriority
  recipient: string
  channel: string
  /** 0: at once; n: n-th rung of the ladder. */
  step: number
  createdAt: UtcMs
  dueAt: UtcMs
  status: DeliveryStatus
  attempts: number
  finishedAt: UtcMs | null
  /** Why it failed, was cancelled, or has to be tried again. */
  reason: string | null
  short: string
}

/** One way to one person, and when it last worked. */
export interface AlertPathView {
  recipient: string
  /** Name for people. */
  name: string
  channel: string
  /** Where it goes, shortened: no address in full, no secret. */
  to: string
  /** person: by an acknowledged message · answer: by the receiving program's answer · nothing: cannot be proven. */
  provenBy: 'person' | 'answer' | 'nothing'
  provenAt: UtcMs | null
  /** The next server on the way took a message over. */
  acceptedAt: UtcMs | null
  failedAt: UtcMs | null
  failure: string | null
  /** True where proof is possible and the last one is older than eight days, or there was none. */
  isUnproven: boolean
}

export interface ChannelView {
  id: string
  kind: string
  waiting: number
  sent: number
  failed: number
  retries: number
  /** Why nothing is sent over it any more. */
  disabled: string | null
}

export interface HeartbeatView {
  to: string
  periodMs: number
  sent: number
  failures: number
  lastAt: UtcMs | null
  lastFailure: string | null
}

/** GET /api/notifications */
export interface NotificationsReply {
  at: UtcMs
  /** False where the server was started without a notification file. */
  configured: boolean
  /** Beginning of the links in messages; null where they work only on this machine. */
  publicUrl: string | null
  channels: ChannelView[]
  paths: AlertPathView[]
  /** Newest first. */
  deliveries: DeliveryView[]
  queue: QueueHealth
  heartbeat: HeartbeatView | null
  nextTestAt: UtcMs | null
  /** High-priority alarms that no rule sends to anybody. */
  uncovered: { plant: string; alarm: string }[]
  /** For browsers that are to show messages; null where no such channel is set up. */
  pushKey: string | null
}
