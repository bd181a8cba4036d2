import { type AlarmState, isUnacknowledged } from '../../wire/alarm.ts'
import type { NoticeKind } from '../../wire/notifications.ts'
import { type Delivery, type Dispatch, deliveryId, dispatchWith, type Ending, type Path } from './delivery.ts'
import { gatherDigest, gatherInputs } from './gathered.ts'
import { quietUntil } from './localTime.ts'
import { alarmMessage, type DispatchContext, type Happening } from './message.ts'
import { pathsOf, rulesFor } from './paths.ts'
import { capRate } from './rateCap.ts'
import type { RuleSetting } from './settings.ts'

/** Events after which nobody needs to be called any more. */
const ENDS_LADDER = ['acknowledge', 'reset', 'shelve', 'takeOut']

/**
 * What is to be sent after a step of an alarm's life. Pure: the same step, settings, earlier messages and time give the same dispatch.
 * High priority is never held back: neither by quiet hours nor by the rate cap.
 */
export function dispatchStep(happening: Happening, context: DispatchContext): Dispatch {
  const { entry, alarm } = happening
  const event: string = entry.event
  if (ENDS_LADDER.includes(event)) {
    const add = event === 'acknowledge' && alarm.active ? reminders(happening, context) : []
    return dispatchWith({
      add,
      end: [ending(happening, 'ladder', `${event} by ${entry.by ?? 'somebody'}`)],
    })
  }
  const end = event === 'raise' || event === 'return' ? [ending(happening, 'reminders', event)] : []
  // Low priority: no high alarm depends on that measurement.
  const isLoss = alarm.tellsOfLoss && alarm.priority !== 'low'
  if (isLoss && event === 'raise') return gatherInputs('inputLost', happening, context)
  if (isLoss && event === 'return') return gatherInputs('inputBack', happening, context)
  const kind = kindOf(event, entry.to)
  return kind ? { ...noticesOf({ kind, about: kind }, happening, context), end } : dispatchWith({ end })
}

function ending({ plant, alarm }: Happening, what: Ending['what'], reason: string): Ending {
  return { plant: plant.id, alarm: alarm.id, what, reason }
}

/** As `dispatchStep`, for what no step of the life cycle tells: an acknowledged alarm that gets worse. */
export function dispatchWorse(happening: Happening, level: number, context: DispatchContext): Dispatch {
  return noticesOf({ kind: 'worse', about: `worse ${level}` }, happening, context)
}

function newIncident({ plant, alarm }: Happening): string {
  return `${plant.id}/${alarm.id}/${alarm.raisedAt ?? 0}`
}

function kindOf(event: string, to: AlarmState): NoticeKind | undefined {
  if (event === 'raise') return isUnacknowledged(to) ? 'raised' : undefined
  return event === 'return' ? 'returned' : undefined
}

function noticesOf(
  { kind, about }: Pick<Notice, 'kind' | 'about'>,
  happening: Happening,
  context: DispatchContext,
): Dispatch {
  const rules = rulesFor(happening, context.settings)
  if (rules.length === 0) return gatherDigest(happening, context)
  const { plant, alarm } = happening
  // A raise before anybody acknowledged the one before it belongs to the same incident.
  const open = context.earlier.openIncident({ plant: plant.id, alarm: alarm.id })
  const incident = open ?? newIncident(happening)
  // A ladder that runs already goes on: an alarm that comes and goes must not put it off for ever.
  const hasRungs = (kind === 'raised' && open === undefined) || kind === 'worse'
  const wishes = new Map<string, Wish>()
  for (const rule of kind === 'returned' ? rules.filter((one) => one.returned) : rules)
    for (const wish of wishesOf(hasRungs ? rule : { ...rule, ladder: [] }, happening, context))
      keep(wishes, wish)
  if (kind === 'returned')
    for (const wish of toldWishes(rules, happening, { context, incident })) keep(wishes, wish)
  const add = [...wishes.values()].map((wish) =>
    deliver({ kind, about, wish, incident }, happening, context.now),
  )
  return capRate(add, { ...context, zone: plant.timeZone })
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

/** Who was called later, from the ladder, also hears that it is over. */
function toldWishes(
  rules: readonly RuleSetting[],
  happening: Happening,
  { context, incident }: { context: DispatchContext; incident: string },
): Wish[] {
  const starts = rules.filter((rule) => rule.returned).map((rule) => startOf(rule, happening, context.now))
  if (starts.length === 0) return []
  return context.earlier.told(incident).map((path) => ({ ...path, step: 0, dueAt: Math.min(...starts) }))
}

/** Now, or the end of the quiet hours of this rule. */
function startOf(rule: RuleSetting, { alarm, plant }: Happening, now: number): number {
  if (alarm.priority === 'high' || !rule.quietHours) return now
  return quietUntil(now, plant.timeZone, rule.quietHours) ?? now
}

/** "Still active" for those who are told first; a return or another raise ends it. */
function reminders(happening: Happening, context: DispatchContext): Delivery[] {
  const incident = newIncident(happening)
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
