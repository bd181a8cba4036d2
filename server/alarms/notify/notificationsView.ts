import type { LivePlant } from '../../livePlant.ts'
import type { AlertPathView, ChannelView, NotificationsReply } from '../../wire/notifications.ts'
import type { Channel } from './channels/channel.ts'
import type { Path } from './delivery.ts'
import type { Outbox } from './outbox.ts'
import { allPaths, type PathMemories, rulesFor } from './paths.ts'
import type { Sender } from './sender.ts'
import type { NotifySettings } from './settings.ts'

/** A weekly test that was missed once is noticed a day later. */
export const PROOF_VALID_MS = 8 * 86_400_000
const MOST_DELIVERIES = 100

export interface ViewOptions {
  settings: NotifySettings
  channels: ReadonlyMap<string, Channel>
  outbox: Outbox
  sender: Sender
  paths: PathMemories
  plants: () => ReadonlyMap<string, LivePlant>
  disabled: (channel: string) => string | undefined
  now: () => number
}

type Parts = Pick<NotificationsReply, 'channels' | 'paths' | 'deliveries' | 'queue' | 'uncovered'>

/** What GET /api/notifications tells of channels, ways and messages. No secret and no address in full. */
export function viewNotifications(options: ViewOptions): Parts {
  const { settings, outbox } = options
  return {
    channels: [...options.channels.values()].map((channel) => viewChannel(channel, options)),
    paths: allPaths(settings).map((path) => viewPath(path, options)),
    deliveries: outbox.table
      .newest(MOST_DELIVERIES)
      .map(({ message, incident: _incident, answeredAt: _answered, ...one }) => ({
        ...one,
        short: message.short,
      })),
    queue: outbox.queue(),
    uncovered: settings.rules.length === 0 ? [] : uncovered(options),
  }
}

function viewChannel({ id, kind }: Channel, { outbox, sender, disabled }: ViewOptions): ChannelView {
  return { id, kind, waiting: outbox.countWaiting(id), ...sender.counts(id), disabled: disabled(id) ?? null }
}

function viewPath(path: Path, { settings, channels, paths, now }: ViewOptions): AlertPathView {
  const recipient = settings.recipients.find((one) => one.id === path.recipient)
  const way = recipient?.by.find((one) => one.channel === path.channel)
  const channel = channels.get(path.channel)
  const memory = paths.of(path)
  const provenBy = channel?.provenBy ?? 'nothing'
  const isOld = memory.provenAt === null || now() - memory.provenAt > PROOF_VALID_MS
  return {
    ...path,
    name: recipient?.name ?? path.recipient,
    to: channel?.describe(way?.to) ?? '',
    provenBy,
    ...memory,
    isUnproven: provenBy !== 'nothing' && isOld,
  }
}

/** One sentence for every screen; undefined while every way that can be proven was proven in the last eight days. */
export function unprovenSentence(options: ViewOptions): string | undefined {
  const all = allPaths(options.settings).map((path) => viewPath(path, options))
  const unproven = all.filter((path) => path.isUnproven)
  if (unproven.length === 0) return undefined
  const names = unproven.slice(0, 3).map((path) => `${path.name} by ${path.channel}`)
  const more = unproven.length > 3 ? ` and ${unproven.length - 3} more` : ''
  return `It was not proven in the last 8 days that an alarm message reaches ${names.join(', ')}${more}.`
}

/** High-priority alarms that would reach nobody. */
function uncovered({ settings, plants }: ViewOptions): NotificationsReply['uncovered'] {
  return [...plants().values()].flatMap(({ plant, board }) =>
    board
      .views()
      .filter((alarm) => alarm.priority === 'high' && rulesFor({ plant, alarm }, settings).length === 0)
      .map((alarm) => ({ plant: plant.id, alarm: alarm.id })),
  )
}
