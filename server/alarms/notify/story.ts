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

/** What is told after the first message: what came first, how far it went and how long, what acted by itself, how it was then. */
export function storyMessage(kind: 'followed' | 'returned', story: EpisodeStory): Message {
  const { plant, members, standing, machine, now } = story
  const { headline, begunAt } = episodeOf(members[0]!.episode ?? '', members)
  const clock = localClock(now, plant.timeZone)
  const isOver = kind === 'returned'
  const lasted = `${isOver ? 'Lasted' : 'For'} ${span((isOver ? endOf(members, now) : now) - begunAt)}`
  const acted = isOver ? [lasted] : actedText(standing)
  return {
    short: cut(
      [isOver ? `Over: ${gistOf(story)}` : gistOf(story), ...acted, `At ${clock}: ${machine}`].join('. '),
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
      `Machine at ${clock}: ${machine}`,
      ...(isOver ? overLines(members) : [`Not over: ${standing.open.join('; ')}.`, ...actionLine(members)]),
    ],
  }
}

/** For a rung of the ladder that waits: nothing of how things stand, which nobody knows by then. */
export function rungShort(story: EpisodeStory): string {
  return cut(`NOT ACKNOWLEDGED: ${gistOf(story)}. ${gravestOf(story.members).action ?? ''}`, SHORT_LIMIT)
}

/** Plant, what came first, and how far it went: true at any later time. */
function gistOf(story: EpisodeStory): string {
  const { plant, members } = story
  const name = `${plant.simulated ? 'SIM ' : ''}${cut(plant.name, 40)}`
  const { headline } = episodeOf(members[0]!.episode ?? '', members)
  const first = cut(headline.replace(' (which came first cannot be told)', ' first'), 60)
  return [`${name}: ${first}`, peakText(story, first)].filter((part) => part !== '').join('. ')
}

function peakText({ members, print }: EpisodeStory, first: string): string {
  const worst = gravestOf(members)
  if (!worst.hasAmount || worst.peak === null) return ''
  const who = first.includes(worst.name) ? 'It' : worst.name
  return `${who} reached ${print(worst, worst.peak)}`
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
