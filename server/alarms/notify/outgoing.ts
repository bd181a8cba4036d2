import type { LivePlant } from '../../livePlant.ts'
import type { AlarmState } from '../../wire/alarm.ts'
import type { NoticeKind } from '../../wire/notifications.ts'
import type { AckLinks } from './ackLink.ts'
import type { Outgoing } from './channels/channel.ts'
import type { Delivery } from './delivery.ts'
import type { NotifySettings } from './settings.ts'

const CAN_ACKNOWLEDGE: readonly NoticeKind[] = ['raised', 'worse', 'followed', 'test']

/** Before that, now is then: and the state of the machine may be the one from before the alarm. */
const NOW_AFTER_MS = 2000

export interface WriterOptions {
  settings: NotifySettings
  plants: () => ReadonlyMap<string, LivePlant>
  links: AckLinks
  /** False where others may read along: a link acknowledges in the name of the recipient. */
  carriesLinks: (channel: string) => boolean
  /** e.g. "https://plant.example"; no slash at the end. */
  baseUrl: () => string
  now: () => number
}

/** The whole text as it goes out: what happened then, how it is now, and the links. */
export function outgoingWriter(options: WriterOptions): (delivery: Delivery) => Outgoing | { fault: string } {
  const { settings, plants, links, carriesLinks, baseUrl, now } = options
  return (delivery) => {
    const recipient = settings.recipients.find((one) => one.id === delivery.recipient)
    const way = recipient?.by.find((one) => one.channel === delivery.channel)
    if (!recipient || !way) return { fault: 'this recipient is no longer reached over this channel' }
    const { id, kind, plant, createdAt, message } = delivery
    const base = baseUrl()
    const acknowledgeUrl =
      CAN_ACKNOWLEDGE.includes(kind) && carriesLinks(delivery.channel)
        ? `${base}/acknowledge/${links.token(id, now() + settings.linkValid)}`
        : undefined
    const pageUrl = plant === null ? `${base}/` : `${base}/#/plant/${encodeURIComponent(plant)}`
    const text = [
      message.short,
      '',
      ...message.lines,
      ...(now() - createdAt < NOW_AFTER_MS ? [] : nowLines(delivery, plants())),
      '',
      ...(acknowledgeUrl === undefined ? [] : [`Acknowledge: ${acknowledgeUrl}`]),
      `Page: ${pageUrl}`,
      '',
      `To ${recipient.name} by ${delivery.channel}. Message ${id}.`,
      'This software watches and records. It does not protect people or machines.',
      '',
    ].join('\n')
    const { name } = recipient
    return { delivery, recipient: { id: recipient.id, name, to: way.to }, text, acknowledgeUrl, pageUrl }
  }
}

const STATE_WORDS: Partial<Record<AlarmState, string>> = {
  normal: 'is over',
  unacknowledged: 'is active and not acknowledged',
  acknowledged: 'is active and acknowledged',
  returnedUnacknowledged: 'has returned to normal and is not acknowledged',
  latchedUnacknowledged: 'has returned, is latched and not acknowledged',
  latchedAcknowledged: 'has returned, is latched and waits for its reset',
}

function nowLines({ plant, alarm }: Delivery, plants: ReadonlyMap<string, LivePlant>): string[] {
  const live = plants.get(plant ?? '')
  const view = live?.board.views().find((one) => one.id === alarm)
  if (!live || !view) return []
  const by = view.acknowledgedBy === null ? '' : ` by ${view.acknowledgedBy}`
  return [
    '',
    `Now: ${live.state().sentence}`,
    `The alarm ${STATE_WORDS[view.state] ?? view.state}${view.state === 'acknowledged' ? by : ''}.`,
  ]
}
