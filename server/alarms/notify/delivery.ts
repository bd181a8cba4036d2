import { createHash } from 'node:crypto'
import type { AlarmPriority } from '../../wire/alarm.ts'
import type { NoticeKind } from '../../wire/notifications.ts'

/** What is said. `short` stands alone, on a locked phone; `lines` are the details below it. */
export interface Message {
  short: string
  lines: string[]
}

/** The way to one person: a recipient over one channel. */
export interface Path {
  recipient: string
  channel: string
}

/** One message for one recipient over one channel, as it is planned. */
export interface Delivery extends Path {
  /** The same on every attempt, so that a receiver can tell a repetition. */
  id: string
  /** What it belongs to: everything from the first raise of an alarm until somebody acknowledges it. */
  incident: string
  kind: NoticeKind
  plant: string | null
  alarm: string | null
  priority: AlarmPriority
  /** 0: at once. n: the n-th rung of the ladder, as long as nobody has acknowledged. */
  step: number
  createdAt: number
  /** Not sent before this time. */
  dueAt: number
  message: Message
}

/** What is to be done after something happened. Written in the transaction of what happened. */
export interface Dispatch {
  add: Delivery[]
  /** Deliveries that wait and get a new text: a digest with one line more. */
  amend: Delivery[]
  /** Cancelled before `add` is added. */
  end: Ending[]
}

/** What still waits for an alarm and is no longer wanted. */
export interface Ending {
  plant: string
  alarm: string
  /**
   * ladder: everything that is not due yet. rungs: only the further rungs of the ladder. reminders: only what was
   * planned after somebody had acknowledged.
   */
  what: 'ladder' | 'rungs' | 'reminders'
  reason: string
}

export function pathId({ recipient, channel }: Path): string {
  return `${recipient}/${channel}`
}

/** Stable: the same on every attempt and after every restart. */
export function deliveryId(parts: readonly string[]): string {
  return `hr_${createHash('sha256').update(JSON.stringify(parts)).digest('base64url').slice(0, 27)}`
}
