import type { LivePlant } from '../../livePlant.ts'
import type { State } from '../../state/openState.ts'
import { type AlarmView, isUnacknowledged } from '../../wire/alarm.ts'
import { episodeOf } from '../../wire/episode.ts'
import { acknowledgeEpisode } from '../episodes/acknowledge.ts'
import type { AckLinks } from './ackLink.ts'
import { dispatchWith } from './delivery.ts'
import type { DeliveryRecord } from './deliveryTable.ts'
import { incidentOf } from './dispatch.ts'
import { localMoment } from './localTime.ts'
import type { Outbox } from './outbox.ts'
import type { PathMemories } from './paths.ts'
import type { NotifySettings } from './settings.ts'

/** What the page behind a link shows. */
export interface AckView {
  status: 'open' | 'done' | 'refused'
  title: string
  lines: string[]
  /** Which raise the person looks at: given back with the button, so that nobody acknowledges what was not shown. */
  raisedAt: number
  /** Words on the button; only where there is something to acknowledge. */
  button?: string
  pageUrl?: string
  /** Set where this very press acknowledged something: by whom, and what. */
  did?: { by: string; target: string }
}

/** Where people land who follow the link in a message. Looking changes nothing: mail scanners follow links too. */
export interface Acknowledgements {
  view(token: string): AckView
  acknowledge(token: string, seenRaisedAt: number): AckView
}

export interface AcknowledgementOptions {
  links: AckLinks
  outbox: Outbox
  paths: PathMemories
  state: State
  settings: NotifySettings
  plants: () => ReadonlyMap<string, LivePlant>
  now: () => number
}

const REFUSALS = {
  forged: 'This link is not complete, or not one of ours. Open it again from the message.',
  expired: 'This link is too old to acknowledge anything. Open the page of the plant instead.',
  removed: 'Its recipient is no longer told of alarms here. Open the page of the plant instead.',
  unknown: 'The message of this link is no longer kept. Open the page of the plant instead.',
}

export function createAcknowledgements(options: AcknowledgementOptions): Acknowledgements {
  const { links, outbox, paths, state, settings, plants, now } = options

  function recordOf(token: string): DeliveryRecord | AckView {
    const read = links.read(token, now())
    if ('refused' in read) return refusal(REFUSALS[read.refused])
    const record = outbox.table.get(read.delivery)
    if (!record) return refusal(REFUSALS.unknown)
    // Whoever was taken out of the notification file acknowledges no more.
    const isRecipient = settings.recipients.some((one) => one.id === record.recipient)
    return isRecipient ? record : refusal(REFUSALS.removed)
  }

  function view(token: string): AckView {
    const record = recordOf(token)
    if ('title' in record) return record
    return record.kind === 'test' ? testView(record) : alarmView(record)
  }

  function testView({ answeredAt, createdAt }: DeliveryRecord): AckView {
    const sent = `Sent ${localMoment(createdAt, settings.timeZone)}.`
    const base = { title: 'Test of the alarm messages', raisedAt: 0 }
    if (answeredAt !== null)
      return {
        ...base,
        status: 'done',
        lines: [sent, `Confirmed ${localMoment(answeredAt, settings.timeZone)}.`],
      }
    return { ...base, status: 'open', lines: [sent, 'Nothing is wrong.'], button: 'It reached me' }
  }

  function alarmView(record: DeliveryRecord): AckView {
    const live = plants().get(record.plant ?? '')
    const alarm = live?.board.views().find((one) => one.id === record.alarm)
    if (!live || !alarm) return refusal('This plant no longer has this alarm.')
    const members = membersOf(record, live)
    const isOpen = members.some((one) => isUnacknowledged(one.state)) || isCalling(record)
    const isUsed = record.answeredAt !== null
    const zone = live.plant.site.timeZone
    const base = {
      title: `${live.plant.simulated ? 'SIM ' : ''}${live.plant.name}: ${members[0] ? episodeOf(members[0].episode ?? '', members).headline : alarm.name}`,
      raisedAt: Math.max(0, ...members.map((one) => one.raisedAt ?? 0)),
      pageUrl: `/#/plant/${encodeURIComponent(live.plant.id)}`,
    }
    const lines = [
      record.message.short,
      `Now: ${live.state().sentence}`,
      ...members.map((one) => memberLine(one, zone)),
      ...(members.length === 0 ? ['This event is over and answered.'] : []),
      ...(isUsed && isOpen ? ['This link was used already; acknowledge on the page of the plant.'] : []),
      'To acknowledge says that you have taken note and see to it. It stops the calls, not the machine.',
    ]
    return isOpen && !isUsed
      ? {
          ...base,
          status: 'open',
          lines,
          button: members.length > 1 ? 'Acknowledge all of it' : 'Acknowledge',
        }
      : { ...base, status: 'done', lines }
  }

  /** All of the event that the message told of, as long as anything of it stands. */
  function membersOf({ incident }: DeliveryRecord, { plant, board }: LivePlant): AlarmView[] {
    return board.views().filter((one) => one.raisedAt !== null && incidentOf(plant.id, one) === incident)
  }

  /** An acknowledged alarm that got worse calls people again. */
  function isCalling({ incident }: DeliveryRecord): boolean {
    return outbox.earlier.ofIncident(incident).some((one) => one.status === 'waiting' && one.step > 0)
  }

  function acknowledge(token: string, seenRaisedAt: number): AckView {
    const before = view(token)
    const record = recordOf(token)
    if (before.status !== 'open' || 'title' in record) return before
    if (before.raisedAt !== seenRaisedAt)
      return { ...before, lines: ['It was raised again meanwhile: look, then press again.', ...before.lines] }
    const did = record.kind === 'test' ? undefined : act(record, seenRaisedAt)
    state.write(() => outbox.table.answer(record.id, now()))
    paths.proven(record, now())
    return { ...view(token), ...(did ? { did } : {}) }
  }

  function act(record: DeliveryRecord, seenRaisedAt: number): NonNullable<AckView['did']> {
    const plant = record.plant ?? ''
    const live = plants().get(plant)
    const name = settings.recipients.find((one) => one.id === record.recipient)?.name ?? record.recipient
    const by = `${name} (by link)`
    const members = live ? membersOf(record, live) : []
    // Before the acknowledgement, which brings reminders of its own.
    const end = members.map(({ id }) => ({
      plant,
      alarm: id,
      what: 'rungs' as const,
      reason: `acknowledge by ${by}`,
    }))
    outbox.put(dispatchWith({ end }))
    const actedBy = {
      by,
      at: now(),
      via: 'link in a message',
      note: `message ${record.id} by ${record.channel}`,
    }
    const episode = members[0]?.episode ?? null
    if (live && episode !== null) acknowledgeEpisode(live.board, { episode, seenRaisedAt }, actedBy)
    return { by, target: `plants/${plant}/alarms/${record.alarm}` }
  }

  return { view, acknowledge }
}

function memberLine(
  { name, active, state, acknowledgedAt, acknowledgedBy }: AlarmView,
  zone: string,
): string {
  const answered =
    acknowledgedAt === null || isUnacknowledged(state)
      ? ''
      : ` Acknowledged by ${acknowledgedBy}, ${localMoment(acknowledgedAt, zone)}.`
  return `${name}: ${active ? 'active' : 'not active'}.${answered}`
}

function refusal(sentence: string): AckView {
  return {
    status: 'refused',
    title: 'This link cannot be used',
    lines: [sentence],
    raisedAt: 0,
    pageUrl: '/',
  }
}
