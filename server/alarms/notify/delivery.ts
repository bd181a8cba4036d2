import { createHash } from 'node:crypto'
import type { DeliveryView } from '../../wire/notifications.ts'

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

type Outline = Pick<DeliveryView, 'kind' | 'plant' | 'alarm' | 'priority' | 'step' | 'createdAt' | 'dueAt'>

/** One message for one recipient over one channel. It is not sent before `dueAt`. */
export interface Delivery extends Path, Outline {
  /** The same on every attempt, so that a receiver can tell a repetition. */
  id: string
  /** What it belongs to: an episode of alarms. */
  incident: string
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
   * meant for after an acknowledgement.
   */
  what: 'ladder' | 'rungs' | 'reminders'
  reason: string
}

/** A delivery as far as later ones depend on it. */
export type Told = Delivery & Pick<DeliveryView, 'status' | 'attempts'>

/** What a dispatch must know of the messages before it. */
export interface EarlierMessages {
  /** A delivery that still waits. */
  waiting(id: string): Delivery | undefined
  /** Messages below high priority that were made for this path since `since` [ms UTC]. */
  countSince(path: Path, since: number): number
  /** What was told of this incident, or is about to be, oldest first. */
  ofIncident(incident: string): Told[]
}

/** A dispatch of these parts; what is left out is empty. */
export function dispatchWith(parts: Partial<Dispatch>): Dispatch {
  return { add: [], amend: [], end: [], ...parts }
}

export function pathId({ recipient, channel }: Path): string {
  return `${recipient}/${channel}`
}

/** Stable: the same on every attempt and after every restart. */
export function deliveryId(parts: readonly string[]): string {
  return `hr_${createHash('sha256').update(JSON.stringify(parts)).digest('base64url').slice(0, 27)}`
}
