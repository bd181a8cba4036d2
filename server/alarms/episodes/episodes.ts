import { type AlarmPriority, type Onset, PRIORITY_RANK } from '../../wire/alarm.ts'
import type { CausePath, CausePathOf } from './causePaths.ts'

/** How long [ms] after its cause, or after that was over, a consequence still belongs to it (common practice, no source). */
export const EPISODE_MS = 60_000
/** Clocks and lines of one sender spread by this much [ms]. */
const TOGETHER_MS = 1000

/** An alarm that is or was raised, as far as it matters here. */
export interface Member {
  id: string
  priority: AlarmPriority
  /** What its figure shows (`shownBy`). */
  shows: string
  onset: Onset
  /** When its condition went; null while it holds. */
  endedAt: number | null
  /** Somebody still owes it something: active, not acknowledged, or latched. */
  isOpen: boolean
  episode: string | null
}

/** Where an alarm stands in the episode that it belongs to. */
export interface Place {
  episode: string
  /** What it followed; null where it came first, or may have. */
  after: string | null
  /** Why it can have followed from that. */
  because: string | null
}

/**
 * An alarm that was just raised joins the open episode of which some alarm shares its time and has a stated way to or from it;
 * else it begins one of its own. What only came at the same time is another episode.
 *
 * @param raised With the episode that it was in before, where that raise is still open.
 * @param others All other alarms that were raised at some time.
 * @returns the places of all that are in this episode now: what came late may have been first.
 */
export function placeRaised(
  raised: Member,
  others: readonly Member[],
  pathOf: CausePathOf,
): ReadonlyMap<string, Place> {
  const open = new Set(others.flatMap((one) => (one.isOpen && one.episode !== null ? [one.episode] : [])))
  const near = others
    .filter((one) => one.episode !== null && open.has(one.episode) && isNear(one, raised, pathOf))
    .sort((a, b) => distance(a, raised) - distance(b, raised))
  const episode = raised.episode ?? near[0]?.episode ?? `${raised.id}-${Math.round(raised.onset.to)}`
  const members = [...others.filter((one) => one.episode === episode), { ...raised, episode }]
  return placesOf(members, pathOf)
}

/** The places within one episode, by the times of measurement. */
export function placesOf(members: readonly Member[], pathOf: CausePathOf): ReadonlyMap<string, Place> {
  const inOrder = [...members].sort(byOnset)
  const firsts = firstOf(inOrder)
  return new Map(
    inOrder.map((member): [string, Place] => {
      const episode = member.episode!
      if (firsts.includes(member)) return [member.id, { episode, after: null, because: null }]
      const [after, path] = causeOf(member, firsts, { inOrder, pathOf })
      return [member.id, { episode, after: after.id, because: path?.why ?? null }]
    }),
  )
}

/**
 * Those of which no measurement says that another came before: the spans in which they began overlap. Of several that show one
 * thing the first alone is named.
 */
function firstOf(inOrder: readonly Member[]): Member[] {
  const latest = Math.min(...inOrder.map((one) => one.onset.to))
  const possible = inOrder.filter((one) => one.onset.from <= latest)
  return possible.filter((one, i) => possible.findIndex((other) => other.shows === one.shows) === i)
}

/** What a member followed: a first one where a way leads from it, else whatever came before it that has one. */
function causeOf(
  member: Member,
  firsts: readonly Member[],
  { inOrder, pathOf }: { inOrder: readonly Member[]; pathOf: CausePathOf },
): [Member, CausePath | undefined] {
  const before = inOrder.slice(0, inOrder.indexOf(member))
  for (const one of [...firsts, ...before]) {
    const path = one === member ? undefined : pathOf(one.id, member.id)
    if (path) return [one, path]
  }
  return [firsts[0]!, undefined]
}

function isNear(member: Member, raised: Member, pathOf: CausePathOf): boolean {
  const [cause, consequence] = byOnset(member, raised) <= 0 ? [member, raised] : [raised, member]
  const path = pathOf(cause.id, consequence.id) ?? pathOf(consequence.id, cause.id)
  if (!path) return false
  const { from, to } = consequence.onset
  if (path.pace === 'together')
    return from <= cause.onset.to + TOGETHER_MS && to >= cause.onset.from - TOGETHER_MS
  if (path.pace === 'while' && cause.endedAt === null) return true
  return from <= Math.max(cause.onset.to, cause.endedAt ?? 0) + EPISODE_MS
}

function distance(a: Member, b: Member): number {
  return Math.abs(a.onset.to - b.onset.to)
}

/** By time; of two at one reading the one whose limit is passed first, which is the milder one. */
function byOnset(a: Member, b: Member): number {
  return a.onset.to - b.onset.to || PRIORITY_RANK[b.priority] - PRIORITY_RANK[a.priority]
}
