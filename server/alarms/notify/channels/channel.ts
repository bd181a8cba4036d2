import type { AlarmPriority } from '../../../wire/alarm.ts'
import type { AlertPathView, NoticeKind } from '../../../wire/notifications.ts'

/** A message on its way out. */
export interface Outgoing {
  /** The same on every attempt. */
  id: string
  kind: NoticeKind
  priority: AlarmPriority
  plant: string | null
  alarm: string | null
  recipient: { id: string; name: string; to: string | undefined }
  step: number
  createdAt: number
  /** At most 160 characters. */
  short: string
  /** Everything, ready to be read. */
  text: string
  /** Opens the page that acknowledges. */
  acknowledgeUrl: string | undefined
  pageUrl: string | undefined
}

/** What became of one attempt. */
export type Outcome =
  | { result: 'sent' }
  /** Try again; not before `afterMs` where the other side asked for that. */
  | { result: 'retry'; reason: string; afterMs?: number }
  /** Never try this one again; with `disable`, send nothing over this channel any more. */
  | { result: 'failed'; reason: string; disable?: true }

/** A way out. One file each, plus one line in index.ts. */
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
  send(message: Outgoing): Promise<Outcome>
  close?(): void
}
