import { type AlarmView, isUnacknowledged, PRIORITY_RANK } from '../../wire/alarm.ts'
import type { NoticeKind } from '../../wire/notifications.ts'
import {
  type Delivery,
  type Dispatch,
  deliveryId,
  dispatchWith,
  type Ending,
  type Path,
  pathId,
  type Told,
} from './delivery.ts'
import { gatherDigest, gatherInputs } from './gathered.ts'
import { quietUntil } from './localTime.ts'
import { alarmMessage, type DispatchContext, type Happening } from './message.ts'
import { pathsOf, rulesFor } from './paths.ts'
import { capRate } from './rateCap.ts'
import type { RuleSetting } from './settings.ts'

/** Events after which nobody needs to be called any more. */
const ENDS_LADDER: readonly string[] = ['acknowledge', 'reset', 'shelve', 'takeOut']
/** What asks somebody to answer: also what was over before anybody heard of it. */
const IS_NEWS: readonly string[] = ['raise', 'toldLate']
/** Rungs of two alarms of one episode that come within this time [ms] are one. */
const SAME_RUNG_MS = 60_000

/**
 * What is to be sent after a step of an alarm's life. Pure: the same step, settings, earlier messages and time give the same dispatch.
 * High priority is never held back: neither by quiet hours nor by the rate cap. What follows within an episode, and its end, is
 * told with the whole story (stories.ts).
 */
export function dispatchStep(happening: Happening, context: DispatchContext): Dispatch {
  const { entry, alarm } = happening
  const event: string = entry.event
  if (ENDS_LADDER.includes(event)) {
    const add = event === 'acknowledge' && alarm.active ? reminders(happening, context) : []
    return dispatchWith({ add, end: endOfLadder(happening, context) })
  }
  const end = event === 'raise' || event === 'return' ? [ending(happening, 'reminders', event)] : []
  // Low priority: no high alarm depends on that measurement.
  const isLoss = alarm.tellsOfLoss && alarm.priority !== 'low'
  if (isLoss && event === 'raise') return gatherInputs('inputLost', happening, context)
  if (isLoss && event === 'return') return gatherInputs('inputBack', happening, context)
  if (IS_NEWS.includes(event) && isUnacknowledged(entry.to))
    return { ...noticesOf({ kind: 'raised', about: 'raised' }, happening, context), end }
  const isOfDay = event === 'return' && rulesFor(happening, context.settings).length === 0
  return isOfDay ? { ...gatherDigest(happening, context), end } : dispatchWith({ end })
}

/** The calls of an episode end when the last of its alarms that call anybody was answered. */
function endOfLadder(happening: Happening, { settings }: DispatchContext): Ending[] {
  const { plant, alarm, entry, episode } = happening
  const isCalling = episode.some(
    (one) =>
      one.id !== alarm.id &&
      isUnacknowledged(one.state) &&
      !one.tellsOfLoss &&
      rulesFor({ plant, alarm: one }, settings).length > 0,
  )
  if (isCalling) return []
  const reason = `${entry.event} by ${entry.by ?? 'somebody'}`
  return episode.map((one) => ending({ plant, alarm: one }, 'ladder', reason))
}

function ending(
  { plant, alarm }: Pick<Happening, 'plant' | 'alarm'>,
  what: Ending['what'],
  reason: string,
): Ending {
  return { plant: plant.id, alarm: alarm.id, what, reason }
}

/** As `dispatchStep`, for what no step of the life cycle tells: an acknowledged alarm that gets worse. */
export function dispatchWorse(happening: Happening, level: number, context: DispatchContext): Dispatch {
  return noticesOf({ kind: 'worse', about: `worse ${level}` }, happening, context)
}

/** The episode of an alarm is what its messages are of. */
export function incidentOf(plant: string, { id, episode, raisedAt }: AlarmView): string {
  return `${plant}/${episode ?? `${id}/${raisedAt ?? 0}`}`
}

function noticesOf(
  { kind, about }: Pick<Notice, 'kind' | 'about'>,
  happening: Happening,
  context: DispatchContext,
): Dispatch {
  const { plant, alarm } = happening
  const incident = incidentOf(plant.id, alarm)
  const told = context.earlier.ofIncident(incident)
  const rules = rulesFor(happening, context.settings)
  if (rules.length === 0) return told.length > 0 ? dispatchWith({}) : gatherDigest(happening, context)
  const wishes = new Map<string, Wish>()
  for (const rule of rules) for (const wish of wishesOf(rule, happening, context)) keep(wishes, wish)
  const amend: Delivery[] = []
  const add = [...wishes.values()].flatMap((wish) => {
    const delivery = deliver({ kind, about, wish, incident }, happening, context.now)
    const known = kind === 'worse' ? undefined : toldAlready(delivery, told, happening)
    if (known && known.step > 0 && isGraver(alarm, known)) amend.push({ ...known, message: delivery.message })
    return known ? [] : [delivery]
  })
  const dispatch = capRate(add, { ...context, zone: plant.timeZone })
  return { ...dispatch, amend: [...dispatch.amend, ...amend] }
}

/**
 * The message by which this way knows of the episode already, so that it is told once: as grave a one that nobody has answered, or a
 * rung of a ladder that runs. A ladder goes on: an alarm that comes and goes must not put it off for ever.
 */
function toldAlready(
  delivery: Delivery,
  told: readonly Told[],
  { alarm, entry, episode }: Happening,
): Told | undefined {
  const ofWay = told.filter(
    (one) => pathId(one) === pathId(delivery) && ['sent', 'waiting'].includes(one.status),
  )
  if (delivery.step > 0)
    return ofWay.findLast(
      (one) => one.step > 0 && one.status === 'waiting' && one.dueAt <= delivery.dueAt + SAME_RUNG_MS,
    )
  const last = ofWay.findLast((one) => one.step === 0)
  if (!last || last.kind === 'returned') return undefined
  const isCalling = episode.some((one) => one.id !== alarm.id && isUnacknowledged(one.state))
  const isAgain = isUnacknowledged(entry.from)
  const gravest = ofWay.find((one) => !isGraver(alarm, one))
  return isCalling || isAgain ? gravest : undefined
}

function isGraver(alarm: Pick<AlarmView, 'priority'>, than: Pick<Delivery, 'priority'>): boolean {
  return PRIORITY_RANK[alarm.priority] < PRIORITY_RANK[than.priority]
}

interface Wish extends Path {
  step: number
  dueAt: number
}

/** The same path and rung from several rules: the earlier time counts. */
function keep(wishes: Map<string, Wish>, wish: Wish): void {
  const key = `${wish.recipient}/${wish.channel}/${wish.step}`
  const known = wishes.get(key)
  if (!known || wish.dueAt < known.dueAt) wishes.set(key, wish)
}

function wishesOf(rule: RuleSetting, happening: Happening, { settings, now }: DispatchContext): Wish[] {
  const { priority } = happening.alarm
  const start = startOf(rule, happening, now)
  return [
    ...pathsOf(rule.to, priority, settings).map((path) => ({ ...path, step: 0, dueAt: start })),
    ...rule.ladder.flatMap(({ after, to }, i) =>
      pathsOf(to, priority, settings).map((path) => ({ ...path, step: i + 1, dueAt: start + after })),
    ),
  ]
}

/** Now, or the end of the quiet hours of this rule. */
function startOf(rule: RuleSetting, { alarm, plant }: Happening, now: number): number {
  if (alarm.priority === 'high' || !rule.quietHours) return now
  return quietUntil(now, plant.timeZone, rule.quietHours) ?? now
}

/** "Still active" for those who are told first; a return or another raise ends it. */
function reminders(happening: Happening, context: DispatchContext): Delivery[] {
  const incident = incidentOf(happening.plant.id, happening.alarm)
  return rulesFor(happening, context.settings).flatMap((rule) =>
    pathsOf(rule.to, happening.alarm.priority, context.settings).map((path) => {
      const wish = { ...path, step: 0, dueAt: context.now + rule.remindAfter }
      return deliver({ kind: 'stillActive', about: 'stillActive', wish, incident }, happening, context.now)
    }),
  )
}

interface Notice {
  kind: NoticeKind
  /** Tells apart what is of one kind: the level that was passed. */
  about: string
  wish: Wish
  incident: string
}

function deliver({ kind, about, wish, incident }: Notice, happening: Happening, now: number): Delivery {
  const { plant, alarm, entry } = happening
  const event = [incident, about, String(entry.at), String(entry.sequence)]
  return {
    id: deliveryId([...event, wish.recipient, wish.channel, String(wish.step)]),
    incident,
    kind,
    plant: plant.id,
    alarm: alarm.id,
    priority: alarm.priority,
    ...wish,
    createdAt: now,
    message: alarmMessage(kind, happening, wish.step),
  }
}
