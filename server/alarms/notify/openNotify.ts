import type { Clock } from '../../clock.ts'
import type { Broker } from '../../ingest/broker/broker.ts'
import type { LivePlant } from '../../livePlant.ts'
import type { Tell } from '../../log.ts'
import type { Options } from '../../options.ts'
import { StartRefused, type State } from '../../state/openState.ts'
import type { JournalEntry } from '../../wire/alarm.ts'
import type { NotificationsReply } from '../../wire/notifications.ts'
import type { QueueHealth } from '../../wire/replies.ts'
import type { Alongside } from '../journal.ts'
import { createAckLinks } from './ackLink.ts'
import { type Acknowledgements, createAcknowledgements } from './acknowledgements.ts'
import type { Channel } from './channels/channel.ts'
import { openChannel } from './channels/index.ts'
import type { Dispatch } from './delivery.ts'
import { dispatchStep, dispatchWorse } from './dispatch.ts'
import { type Heartbeat, startHeartbeat } from './heartbeat.ts'
import { happeningOf } from './message.ts'
import { unprovenSentence, type ViewOptions, viewNotifications } from './notificationsView.ts'
import { readNotifyFile, readSecrets, type Secrets } from './notifyFile.ts'
import { createDisabledChannels, createNotifyMemory } from './notifyMemory.ts'
import { createOutbox } from './outbox.ts'
import { outgoingWriter } from './outgoing.ts'
import { createPathMemories, rulesFor } from './paths.ts'
import { createSender } from './sender.ts'
import type { NotifySettings } from './settings.ts'
import { dispatchStories } from './stories.ts'
import { createSubscriptions, type Subscription, type SubscriptionStore } from './subscriptions.ts'
import { createWeeklyTest } from './weeklyTest.ts'
import { createWorsening } from './worsening.ts'

const TIDY_MS = 60_000
const STOP_LIMIT_MS = 3000

/** Messages to people and programs about alarms. */
export interface Notify {
  /** Give to the journal: what is to be sent is stored in the transaction of the step. */
  alongside: Alongside
  /** Begins to send. @param url where the page is, for links where no public address was given. */
  start(url: string): void
  acknowledgements: Acknowledgements
  view(): NotificationsReply
  queue(): QueueHealth
  /** For every screen; undefined while all is well. */
  unproven(): string | undefined
  /** @returns how many test messages there are; undefined for an unknown recipient. */
  test(recipient?: string): number | undefined
  /** False for an unknown channel. */
  enable(channel: string): boolean
  /** False where there is no such recipient, or no channel to browsers. */
  subscribe(recipient: string, subscription: Subscription): boolean
  close(): Promise<void>
}

export interface NotifyParts {
  settings: NotifySettings
  secrets: Secrets
  publicUrl: string | null
  state: State
  clock: Clock
  /** Looked up when needed: plants are read again while the server runs. */
  plants: () => ReadonlyMap<string, LivePlant>
  broker: () => Pick<Broker, 'publish' | 'status'>
  random?: () => number
  /** One line for the operator. */
  onNotice?: (line: string) => void
  /** Shorter in tests. */
  answerLimitMs?: number
}

/** @throws {StartRefused} for a notification file or secrets that cannot be used. */
export function openNotify(
  options: Pick<Options, 'notify' | 'notifySecrets' | 'publicUrl'>,
  { tell, ...parts }: Pick<NotifyParts, 'state' | 'clock' | 'plants' | 'broker'> & { tell: Tell },
): Notify {
  return createNotify({
    ...parts,
    settings: readNotifyFile(options.notify),
    secrets: readSecrets(options.notifySecrets, process.env),
    publicUrl: options.publicUrl,
    onNotice: (line) => tell(line, 'warn'),
  })
}

export function createNotify(parts: NotifyParts): Notify {
  const { settings, state, clock, plants, publicUrl, onNotice = () => {} } = parts
  const memory = createNotifyMemory(state)
  const links = createAckLinks(memory)
  const outbox = createOutbox(state, clock)
  const paths = createPathMemories(state)
  const subscriptions = createSubscriptions(memory)
  const channels = openChannels(parts, subscriptions)
  const disabled = createDisabledChannels(channels, memory)
  const worsening = createWorsening(memory)
  const shared = { settings, state, plants, outbox, paths, channels, memory, now: clock.now }
  let pageUrl = ''
  let heartbeat: Heartbeat | undefined
  let stops: (() => void)[] = []

  const sender = createSender({
    outbox,
    channels,
    clock,
    random: parts.random ?? Math.random,
    write: outgoingWriter({
      ...shared,
      links,
      carriesLinks: (channel) => channels.get(channel)?.provenBy !== 'nothing',
      baseUrl: () => publicUrl ?? pageUrl,
    }),
    disabled: disabled.reason,
    onAccepted(path) {
      paths.accepted(path, clock.now())
      if (channels.get(path.channel)?.provenBy === 'answer') paths.proven(path, clock.now())
    },
    onFault(path, result) {
      paths.failed(path, clock.now(), result.reason)
      if (result.status !== 'failed') return
      onNotice(`notify: ${path.recipient} by ${path.channel}: ${result.reason}. This message is given up.`)
      if (result.disable) disabled.disable(path.channel, result.reason)
    },
  })
  const needsPerson = ({ channel }: { channel: string }) => channels.get(channel)?.provenBy === 'person'
  const weekly = createWeeklyTest({ ...shared, needsPerson })
  const context = () => ({ settings, earlier: outbox.earlier, now: clock.now() })

  /** A fault in here must never keep an alarm out of the journal. */
  function dispatchFor(entry: JournalEntry): Dispatch | undefined {
    try {
      const live = plants().get(entry.plant)
      const happening = live && happeningOf(live, entry.alarm, entry)
      return happening && dispatchStep(happening, context())
    } catch (error) {
      onNotice(`notify: no message could be made for ${entry.plant}/${entry.alarm}: ${error}`)
      return undefined
    }
  }

  function alongside(entry: JournalEntry): () => void {
    const dispatch = settings.recipients.length === 0 ? undefined : dispatchFor(entry)
    if (!dispatch) return () => {}
    const write = outbox.take(dispatch)
    sender.wake()
    return write
  }

  function everySecond(): void {
    const now = clock.now()
    for (const live of plants().values()) {
      tellWorse(live)
      for (const story of dispatchStories(live, context())) outbox.put(story)
    }
    weekly.tick(now)
    sender.wake()
  }

  function tellWorse(live: LivePlant): void {
    for (const alarm of live.board.views()) {
      const share = Math.min(...rulesFor({ plant: live.plant, alarm }, settings).map((rule) => rule.worseBy))
      const level = Number.isFinite(share) ? worsening.check(live.plant.id, alarm, share) : undefined
      if (level === undefined) continue
      const step = {
        sequence: 0,
        at: clock.now(),
        event: 'raise',
        from: alarm.state,
        to: alarm.state,
        value: alarm.peak,
      } as const
      const happening = happeningOf(live, alarm.id, step)
      if (happening) outbox.put(dispatchWorse(happening, level, context()))
    }
  }

  const viewOptions: ViewOptions = { ...shared, sender, disabled: disabled.reason }
  const pushChannel = [...channels.values()].find((channel) => channel.kind === 'webPush')

  return {
    alongside,
    start(url) {
      pageUrl = url
      if (settings.recipients.length > 0) {
        stops = [clock.every(1000, everySecond), clock.every(TIDY_MS, outbox.tidy)]
        outbox.tidy()
      }
      if (settings.heartbeat)
        heartbeat = startHeartbeat({ setting: settings.heartbeat, clock, broker: parts.broker() })
      sender.wake()
    },
    acknowledgements: createAcknowledgements({ ...shared, links }),
    view: () => ({
      at: clock.now(),
      configured: settings.recipients.length > 0,
      publicUrl,
      ...viewNotifications(viewOptions),
      heartbeat: heartbeat?.view() ?? null,
      nextTestAt: weekly.nextAt(clock.now()),
      pushKey: pushChannel ? subscriptions.serverKeys().publicKey : null,
    }),
    queue: outbox.queue,
    unproven: () => unprovenSentence(viewOptions),
    test(recipient) {
      if (recipient !== undefined && !settings.recipients.some((one) => one.id === recipient))
        return undefined
      const count = weekly.sendNow(clock.now(), recipient)
      sender.wake()
      return count
    },
    enable(channel) {
      if (!channels.has(channel)) return false
      disabled.enable(channel)
      return true
    },
    subscribe(recipient, subscription) {
      const ways = settings.recipients.find((one) => one.id === recipient)?.by ?? []
      if (!pushChannel || !ways.some((way) => way.channel === pushChannel.id)) return false
      subscriptions.add(recipient, subscription)
      return true
    },
    async close() {
      for (const stop of stops) stop()
      heartbeat?.stop()
      await sender.stop(STOP_LIMIT_MS)
      for (const channel of channels.values()) channel.close?.()
    },
  }
}

function openChannels(parts: NotifyParts, subscriptions: SubscriptionStore): Map<string, Channel> {
  const { settings, secrets, clock, broker, answerLimitMs } = parts
  const opened = settings.channels.map((setting) =>
    openChannel(setting, {
      secret: secrets(setting.id),
      now: clock.now,
      broker: { publish: (...message) => broker().publish(...message), status: () => broker().status() },
      subscriptions,
      ...(answerLimitMs === undefined ? {} : { answerLimitMs }),
    }),
  )
  const faults = opened.flatMap((one) => ('fault' in one ? [one.fault] : []))
  if (faults.length > 0) throw new StartRefused(`Notification channels: ${faults.join('; ')}.`)
  return new Map(opened.flatMap((one) => ('fault' in one ? [] : [[one.id, one] as const])))
}
