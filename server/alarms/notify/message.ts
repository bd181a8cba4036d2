import { nodeOf } from '../../derive/plan.ts'
import type { LivePlant } from '../../livePlant.ts'
import type { MachineThen } from '../../machinePast.ts'
import type { AlarmView, JournalEntry } from '../../wire/alarm.ts'
import type { NoticeKind } from '../../wire/notifications.ts'
import { findUnit, fromSi, toSi } from '../../wire/units.ts'
import type { EarlierMessages, Message } from './delivery.ts'
import { localClock, localMoment } from './localTime.ts'
import type { NotifySettings } from './settings.ts'

/** Length of a text message of old, and about what a locked phone shows. */
export const SHORT_LIMIT = 160
const LONGEST_NAME = 40

/** What a message is made of, in the words and units that people at the plant use. */
export interface Happening {
  plant: { id: string; name: string; timeZone: string; simulated: boolean }
  alarm: AlarmView
  entry: Pick<JournalEntry, 'sequence' | 'at' | 'event' | 'from' | 'to' | 'by'>
  /** All alarms of its episode, in the order in which they began; itself, where it is of none. */
  episode: AlarmView[]
  /** e.g. "1770 min⁻¹"; "no value" where there is none. */
  value: string
  /** e.g. "1650 min⁻¹". */
  limit: string | undefined
  /** What the machine does now, up to a tick old. */
  machine: string
  /** What it did before the condition began; undefined where that is not known. */
  before: MachineThen | undefined
}

/** What a dispatch depends on beside what happened. */
export interface DispatchContext {
  settings: NotifySettings
  earlier: EarlierMessages
  now: number
}

/** A step in words and units for people; undefined for an alarm that the plant no longer has. */
export function happeningOf(
  live: LivePlant,
  alarmId: string,
  step: Happening['entry'] & { value: number | null },
): Happening | undefined {
  const views = live.board.views()
  const alarm = views.find((one) => one.id === alarmId)
  if (!alarm) return undefined
  const { id, name, simulated } = live.plant
  return {
    plant: { id, name, simulated, timeZone: live.plant.site.timeZone },
    alarm,
    entry: step,
    episode: alarm.episode === null ? [alarm] : views.filter((one) => one.episode === alarm.episode),
    value: printValue(live, alarm, step.value),
    limit: alarm.limit === undefined ? undefined : printValue(live, alarm, alarm.limit),
    machine: live.state().sentence,
    before: live.machineBefore(alarm.onset?.from ?? step.at),
  }
}

/** Four significant digits in the unit that people read the figure in, e.g. "1770 min⁻¹". */
export function printValue(live: Pick<LivePlant, 'plan'>, alarm: AlarmView, value: number | null): string {
  const figure = nodeOf(live.plan, alarm.figure)?.description
  if (value === null || !Number.isFinite(value)) return 'no value'
  const from = findUnit(figure?.unit ?? '1')
  const to = findUnit(figure?.viewUnit ?? '1')
  const shown = from && to ? fromSi(toSi(value, from), to) : value
  const unit = from && to ? to.print : (figure?.unit ?? '')
  const text = String(Number(shown.toPrecision(4))).replace('-', '\u2212')
  return unit === '' ? text : `${text} ${unit}`
}

/** First what happened in at most 160 characters, then the rest. `step` 0 is the first message. */
export function alarmMessage(kind: NoticeKind, happening: Happening, step: number): Message {
  return { short: shortText(kind, happening, step), lines: detailLines(happening, step) }
}

/** Plant, what, value with unit, local time, what to do. */
function shortText(kind: NoticeKind, happening: Happening, step: number): string {
  const { plant, alarm, entry, value } = happening
  const time = localClock(entry.at, plant.timeZone)
  const name = `${plant.simulated ? 'SIM ' : ''}${cut(plant.name, LONGEST_NAME)}`
  const what = cut(alarm.name, LONGEST_NAME) + (alarm.hasAmount ? ` ${value}` : '')
  const again = step > 0 ? 'NOT ACKNOWLEDGED: ' : ''
  // Whoever reads it must not run to a machine that ran away an hour ago.
  const isPast = entry.event === 'toldLate'
  const when = isPast ? `happened at ${localMoment(entry.at, plant.timeZone)}, told late` : `at ${time}`
  const head: Record<string, string> = {
    raised: `${again}${name}: ${what}${isPast ? ',' : ''} ${when}.`,
    worse: `${again}WORSE: ${name}: ${what} at ${time}.`,
    stillActive: `Still active: ${name}: ${what}, acknowledged at ${time}.`,
    inputLost: `${name}: ${what}, since ${time}.`,
    inputBack: `${name}: over since ${time}: ${what}.`,
  }
  const doing = kind === 'inputBack' ? '' : firstAction(kind, alarm)
  return cut(`${head[kind] ?? `${name}: ${what} at ${time}.`} ${doing}`.trim(), SHORT_LIMIT)
}

function firstAction(kind: NoticeKind, alarm: AlarmView): string {
  if (kind === 'inputLost') return 'Check sensor and line; watch the machine meanwhile.'
  return alarm.action ?? ''
}

function detailLines(happening: Happening, step: number): string[] {
  const { plant, alarm, entry, value, limit, before } = happening
  const optional = (word: string, text: string | undefined) => (text ? [`${word}: ${text}`] : [])
  return [
    ...(plant.simulated ? ['SIMULATED: this plant is a computation, nothing real happened.'] : []),
    `Plant: ${plant.name}`,
    `Alarm: ${alarm.name} (${alarm.priority} priority)`,
    `When: ${localMoment(entry.at, plant.timeZone)}`,
    alarm.hasAmount
      ? `Value: ${value}${limit === undefined ? '' : `, limit ${limit}`}`
      : `What was watched for: ${alarm.condition}`,
    ...optional('In detail', alarm.detail),
    ...(entry.event === 'toldLate' ? [TOLD_LATE] : []),
    ...(before ? [`Machine before (${localClock(before.at, plant.timeZone)}): ${before.sentence}`] : []),
    ...followedLine(happening),
    ...optional('Cause', alarm.cause),
    ...optional('Consequence', alarm.consequence),
    ...optional('What to do', alarm.action),
    ...(step > 0 ? [`Nobody has acknowledged this yet: you are on rung ${step} of the ladder.`] : []),
  ]
}

const TOLD_LATE =
  'Told late: it was over when its readings came. What the machine does now is another matter.'

/** So that nobody chases a consequence. */
function followedLine({ alarm, episode }: Happening): string[] {
  const first = episode.find((one) => one.id === alarm.after)
  if (!first) return []
  return [`Followed: ${first.name}${alarm.because === null ? '' : ` (${alarm.because})`}`]
}

/** One line of a digest. */
export function digestLine({ plant, alarm, entry, value }: Happening): string {
  const what = entry.event === 'return' ? 'back to normal' : alarm.hasAmount ? value : alarm.condition
  return `${localClock(entry.at, plant.timeZone)} ${alarm.name}: ${what}`
}

/** At most `limit` characters, cut between words where there is one near. */
export function cut(text: string, limit: number): string {
  const flat = text.replaceAll(/[\p{Cc}\s]+/gu, ' ').trim()
  if (flat.length <= limit) return flat
  const room = flat.slice(0, limit - 1).replace(/[\ud800-\udbff]$/, '')
  const space = room.lastIndexOf(' ')
  return `${space > limit * 0.7 ? room.slice(0, space) : room}…`
}
