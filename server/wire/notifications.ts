import { z } from 'zod'
import { priority } from './alarmReplies.ts'
import { queueHealth } from './replies.ts'
import { flag, number, text, time, timeOrNull } from './shape.ts'

const delivery = z.object({
  id: text,
  kind: z
    .enum([
      'raised',
      'worse',
      'stillActive',
      'followed',
      'returned',
      'inputLost',
      'inputBack',
      'digest',
      'suppressed',
      'test',
      'testUnanswered',
    ])
    .describe('Why it is sent'),
  plant: text.nullable(),
  alarm: text.nullable(),
  priority,
  recipient: text,
  channel: text,
  step: number.describe('0: at once; n: n-th rung of the ladder'),
  createdAt: time,
  dueAt: time,
  status: z
    .enum(['waiting', 'sent', 'failed', 'cancelled'])
    .describe('Waiting for its time or another attempt; cancelled: acknowledged before it was its turn'),
  attempts: number,
  finishedAt: timeOrNull,
  reason: text.nullable().describe('Why it failed, was cancelled, or has to be tried again'),
  short: text,
})
/** A message, and how it stands. */
export type DeliveryView = z.output<typeof delivery>
/** Why a message is sent. */
export type NoticeKind = DeliveryView['kind']

const alertPath = z.object({
  recipient: text,
  name: text.describe('For people'),
  channel: text,
  to: text.describe('Where it goes, shortened: no address in full, no secret'),
  provenBy: z
    .enum(['person', 'answer', 'nothing'])
    .describe('By an acknowledged message; by the answer of the receiving program; cannot be proven'),
  provenAt: timeOrNull,
  acceptedAt: timeOrNull.describe('The next server on the way took a message over'),
  failedAt: timeOrNull,
  failure: text.nullable(),
  isUnproven: flag.describe('Proof is possible, and the last one is older than eight days or was never'),
})
/** One way to one person, and when it last worked. */
export type AlertPathView = z.output<typeof alertPath>

const channel = z.object({
  id: text,
  kind: text,
  waiting: number,
  sent: number,
  failed: number,
  retries: number,
  disabled: text.nullable().describe('Why nothing is sent over it any more'),
})
export type ChannelView = z.output<typeof channel>

const heartbeat = z.object({
  to: text,
  periodMs: number,
  sent: number,
  failures: number,
  lastAt: timeOrNull,
  lastFailure: text.nullable(),
})
/** Signs of life sent to a watcher. */
export type HeartbeatView = z.output<typeof heartbeat>

export const notificationsReply = z.object({
  at: time,
  configured: flag.describe('False where the server was started without a notification file'),
  publicUrl: text.nullable().describe('Beginning of links in messages; null where they work only here'),
  channels: z.array(channel),
  paths: z.array(alertPath),
  deliveries: z.array(delivery).describe('Newest first'),
  queue: queueHealth,
  heartbeat: heartbeat.nullable(),
  nextTestAt: timeOrNull,
  uncovered: z
    .array(z.object({ plant: text, alarm: text }))
    .describe('High-priority alarms that no rule sends to anybody'),
  pushKey: text
    .nullable()
    .describe('For browsers that are to show messages; null where no such channel is set up'),
})
export type NotificationsReply = z.output<typeof notificationsReply>
