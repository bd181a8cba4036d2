import { type AlarmView, PRIORITY_RANK } from '../../wire/alarm.ts'
import { episodeOf } from '../../wire/episode.ts'
import type { Standing } from '../episodes/standing.ts'
import type { Message } from './delivery.ts'
import { localClock, localMoment } from './localTime.ts'
import { cut, type Happening, SHORT_LIMIT } from './message.ts'

const MOST_LINES = 15

/** An episode in words and units for people. */
export interface EpisodeStory extends Pick<Happening, 'plant' | 'machine' | 'before'> {
  /** In the order in which they began. */
  members: readonly AlarmView[]
  standing: Standing
  /** A value in the unit in which people read the figure of an alarm. */
  print(alarm: AlarmView, value: number): string
  now: number
}

/** The gravest, and of those the one that went furthest in time. */
export function gravestOf(members: readonly AlarmView[]): AlarmView {
  return [...members].sort(
    (a, b) =>
      PRIORITY_RANK[a.priority] - PRIORITY_RANK[b.priority] ||
      Number(b.hasAmount) - Number(a.hasAmount) ||
      (b.raisedAt ?? 0) - (a.raisedAt ?? 0),
  )[0]!
}

/** What is told after the first message: what came first, how far it went and how long, what acted by itself, how it is now. */
export function storyMessage(kind: 'followed' | 'returned', story: EpisodeStory): Message {
  const { plant, members, standing, machine, now } = story
  const { headline, begunAt } = episodeOf(members[0]!.episode ?? '', members)
  const name = `${plant.simulated ? 'SIM ' : ''}${cut(plant.name, 40)}`
  const endedAt = kind === 'returned' ? endOf(members, now) : now
  const lasted = `${kind === 'returned' ? 'Lasted' : 'For'} ${span(endedAt - begunAt)}`
  const parts = [peakText(story), lasted, ...actedText(standing), `Now: ${machine}`]
  return {
    short: cut(
      `${kind === 'returned' ? 'Over: ' : ''}${name}: ${cut(headline, 60)}. ${parts.filter(Boolean).join('. ')}`,
      SHORT_LIMIT,
    ),
    lines: [
      ...(plant.simulated ? ['SIMULATED: this plant is a computation, nothing real happened.'] : []),
      `Plant: ${plant.name}`,
      `Began: ${localMoment(begunAt, plant.timeZone)}. ${lasted}.`,
      `Came first: ${headline}`,
      ...members.slice(0, MOST_LINES).map((one) => memberLine(one, story)),
      ...(members.length > MOST_LINES ? [`… and ${members.length - MOST_LINES} more`] : []),
      protectionLine(standing),
      ...(story.before
        ? [`Machine before (${localClock(story.before.at, plant.timeZone)}): ${story.before.sentence}`]
        : []),
      `Machine at ${localClock(now, plant.timeZone)}: ${machine}`,
      ...(kind === 'returned'
        ? overLines(members)
        : [`Not over: ${standing.open.join('; ')}.`, ...actionLine(members)]),
    ],
  }
}

function peakText({ members, print }: EpisodeStory): string {
  const worst = gravestOf(members)
  if (!worst.hasAmount || worst.peak === null) return ''
  return `${worst.name} reached ${print(worst, worst.peak)}`
}

function actedText({ acted }: Standing): string[] {
  return acted && acted.length > 0 ? [`${acted.join(', ')}: on`] : []
}

function protectionLine({ acted }: Standing): string {
  if (acted === undefined) return 'Protection: this plant reports no contact of it.'
  return acted.length === 0
    ? 'Protection: none of its contacts is on now.'
    : `Protection that has acted: ${acted.join(', ')} (on now).`
}

function memberLine(alarm: AlarmView, { plant, print }: EpisodeStory): string {
  const began = localClock(alarm.onset?.to ?? alarm.raisedAt ?? 0, plant.timeZone)
  const peak = alarm.hasAmount && alarm.peak !== null ? `, reached ${print(alarm, alarm.peak)}` : ''
  const state = alarm.active ? 'active' : alarm.state.startsWith('latched') ? 'gone, latched' : 'gone'
  const isOpen = ['unacknowledged', 'returnedUnacknowledged', 'latchedUnacknowledged'].includes(alarm.state)
  return `${began} ${alarm.name}${peak}: ${state}${isOpen ? ', not acknowledged' : ''}`
}

function overLines(members: readonly AlarmView[]): string[] {
  const isOpen = members.some((one) => one.state === 'returnedUnacknowledged')
  return isOpen ? ['Nobody has acknowledged it yet.'] : []
}

function actionLine(members: readonly AlarmView[]): string[] {
  const { action } = gravestOf(members)
  return action === undefined ? [] : [`What to do: ${action}`]
}

function endOf(members: readonly AlarmView[], now: number): number {
  const ends = members.map((one) => one.returnedAt ?? now)
  return Math.min(now, Math.max(...ends))
}

/** "4 s", "12 min", "3 h" */
function span(ms: number): string {
  const seconds = Math.max(0, Math.round(ms / 1000))
  if (seconds < 120) return `${seconds} s`
  return seconds < 7200 ? `${Math.round(seconds / 60)} min` : `${Math.round(seconds / 3600)} h`
}
