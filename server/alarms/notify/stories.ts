import type { LivePlant } from '../../livePlant.ts'
import type { AlarmView } from '../../wire/alarm.ts'
import { groupBy } from '../../wire/groupBy.ts'
import { standingOf } from '../episodes/standing.ts'
import { type Delivery, type Dispatch, deliveryId, type Path, pathId, type Told } from './delivery.ts'
import { incidentOf } from './dispatch.ts'
import { type DispatchContext, printValue } from './message.ts'
import { rulesFor } from './paths.ts'
import { capRate } from './rateCap.ts'
import { type EpisodeStory, gravestOf, rungShort, storyMessage } from './story.ts'

/** An episode is told once more this long [ms] after its first message, when it is known how far it went and what acted. */
export const STORY_MS = 30_000
/** It is over when nothing of it has stood for this long [ms]. */
const OVER_MS = 5000

/** What is to be sent now about the episodes of a plant that somebody was told of. */
export function dispatchStories(live: LivePlant, context: DispatchContext): Dispatch[] {
  const alarms = live.board.views().filter((one) => one.episode !== null && !one.tellsOfLoss)
  return [...groupBy(alarms, (one) => one.episode).values()].flatMap((members) => {
    const told = context.earlier.ofIncident(incidentOf(live.plant.id, members[0]!))
    return told.length === 0 ? [] : dispatchStory(storyOf(live, members, context.now), told, context)
  })
}

function storyOf(live: LivePlant, alarms: readonly AlarmView[], now: number): EpisodeStory {
  const members = [...alarms].sort((a, b) => (a.onset?.to ?? 0) - (b.onset?.to ?? 0))
  const { id, name, simulated, site } = live.plant
  return {
    plant: { id, name, simulated, timeZone: site.timeZone },
    members,
    standing: standingOf(members, live),
    machine: live.state().sentence,
    before: live.machineBefore(members[0]!.onset?.from ?? now),
    print: (alarm, value) => printValue(live, alarm, value),
    now,
  }
}

/** Pure: the same story, earlier messages and time give the same dispatch. */
export function dispatchStory(
  story: EpisodeStory,
  told: readonly Told[],
  context: DispatchContext,
): Dispatch[] {
  const kind = kindOf(story, told, context.now)
  if (!kind) return []
  const gravest = gravestOf(story.members)
  const rules = rulesFor({ plant: story.plant, alarm: gravest }, context.settings)
  if (kind === 'returned' && !rules.some((rule) => rule.returned)) return []
  const message = storyMessage(kind, story)
  const news = waysOf(told).map((way) => newsFor(way, { kind, message, gravest, told, now: context.now }))
  const add = news.flatMap((one) => (one.isNew ? [one.delivery] : []))
  const amend = [...news.flatMap((one) => (one.isNew ? [] : [one.delivery])), ...rungsWith(story, told)]
  if (add.length === 0 && !amend.some((one) => isChanged(one, told))) return []
  const capped = capRate(add, { ...context, zone: story.plant.timeZone })
  return [{ ...capped, amend: [...capped.amend, ...amend] }]
}

/** Over: once. Not over: once after each first message or worse one, where there is more to tell than that said. */
function kindOf(
  story: EpisodeStory,
  told: readonly Told[],
  now: number,
): 'followed' | 'returned' | undefined {
  const calls = told.filter((one) => one.step === 0 && ['raised', 'worse'].includes(one.kind))
  const calledAt = Math.max(...calls.map((one) => one.createdAt))
  const later = told.filter((one) => one.createdAt > calledAt)
  if (now - calledAt < STORY_MS || later.some((one) => one.kind === 'returned')) return undefined
  if (story.standing.open.length === 0)
    return now - lastReturn(story.members) >= OVER_MS ? 'returned' : undefined
  return hasMore(story) && !later.some((one) => one.kind === 'followed') ? 'followed' : undefined
}

function lastReturn(members: readonly AlarmView[]): number {
  return Math.max(...members.map((one) => one.returnedAt ?? 0))
}

function hasMore({ members, standing }: EpisodeStory): boolean {
  return (
    members.length > 1 || (standing.acted ?? []).length > 0 || members.some((one) => one.peak !== one.value)
  )
}

/** Everybody who was told of it, also from the ladder. */
function waysOf(told: readonly Told[]): Path[] {
  const reached = told.filter((one) => one.status === 'sent' || (one.status === 'waiting' && one.step === 0))
  return [...groupBy(reached, pathId).values()].map(([one]) => ({
    recipient: one!.recipient,
    channel: one!.channel,
  }))
}

interface News {
  kind: 'followed' | 'returned'
  message: Delivery['message']
  gravest: AlarmView
  told: readonly Told[]
  now: number
}

/** What waits for its time gets the whole story as its text; what was sent or is being tried is followed by a message. */
function newsFor(
  way: Path,
  { kind, message, gravest, told, now }: News,
): { isNew: boolean; delivery: Delivery } {
  const last = told.findLast((one) => pathId(one) === pathId(way) && one.step === 0)
  if (last?.status === 'waiting' && last.attempts === 0 && last.dueAt > now)
    return { isNew: false, delivery: { ...last, message } }
  const { incident, plant } = told[0]!
  const id = deliveryId([incident, kind, String(now), way.recipient, way.channel])
  const fixed = { id, incident, kind, plant, alarm: gravest.id, priority: gravest.priority }
  return { isNew: true, delivery: { ...fixed, ...way, step: 0, createdAt: now, dueAt: now, message } }
}

/** The rungs of the ladder that wait tell how far it went. */
function rungsWith(story: EpisodeStory, told: readonly Told[]): Delivery[] {
  const short = rungShort(story)
  const rungs = told.filter((one) => one.step > 0 && one.status === 'waiting')
  return rungs.map((one) => ({ ...one, message: { ...one.message, short } }))
}

function isChanged(delivery: Delivery, told: readonly Told[]): boolean {
  return told.find((one) => one.id === delivery.id)?.message.short !== delivery.message.short
}
