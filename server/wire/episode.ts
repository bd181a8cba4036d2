import { type AlarmView, type EpisodeView, isUnacknowledged, PRIORITY_RANK as RANK } from './alarm.ts'

/** The episodes of which something still stands, the gravest first, then the newest: one event each, with all that followed from it. */
export function episodesOf(alarms: readonly AlarmView[]): EpisodeView[] {
  const ids = new Set(alarms.flatMap(({ state, episode }) => (isCalm(state) ? [] : (episode ?? []))))
  return [...ids]
    .map((id) =>
      episodeOf(
        id,
        alarms.filter((one) => one.episode === id),
      ),
    )
    .sort(byWeight)
}

/** @param alarms All of this episode. */
export function episodeOf(id: string, alarms: readonly AlarmView[]): EpisodeView {
  const members = [...alarms].sort(byOnset)
  const first = members.filter((one) => one.after === null)
  return {
    id,
    headline: headlineOf(first.map((one) => gravestOn(one, members))),
    begunAt: members[0]!.onset?.to ?? members[0]!.raisedAt ?? 0,
    first: first.map((one) => one.id),
    alarms: members.map((one) => one.id),
    priority: members.map((one) => one.priority).reduce((a, b) => (RANK[a] <= RANK[b] ? a : b)),
    active: members.some((one) => one.active),
    unacknowledged: members.filter((one) => isUnacknowledged(one.state)).length,
    latched: members.some(
      (one) => one.state === 'latchedAcknowledged' || one.state === 'latchedUnacknowledged',
    ),
    raisedAt: Math.max(...members.map((one) => one.raisedAt ?? 0)),
  }
}

/** Several levels of one figure are passed one after the other: people know the event by the gravest. */
function gravestOn({ figure, name, ...one }: AlarmView, members: readonly AlarmView[]): AlarmView {
  const same = members.filter((other) => other.figure === figure && other.limit !== undefined)
  return same.reduce((a, b) => (RANK[b.priority] < RANK[a.priority] ? b : a), { figure, name, ...one })
}

/** What came first, or between what that cannot be told. */
function headlineOf(first: readonly AlarmView[]): string {
  const names = first.map((one) => one.name)
  if (names.length <= 1) return names[0] ?? ''
  if (first.every((one) => one.tellsOfLoss))
    return `${names.length} inputs lost together: ${names.map(withoutHead).join(', ')}`
  return `${names.slice(0, -1).join(', ')} or ${names.at(-1)} (which came first cannot be told)`
}

/** "Input lost: speed" → "speed" */
function withoutHead(name: string): string {
  return name.replace(/^Input lost: /, '')
}

function isCalm(state: AlarmView['state']): boolean {
  return ['normal', 'suppressed', 'shelved', 'outOfService'].includes(state)
}

function byOnset(a: AlarmView, b: AlarmView): number {
  return (a.onset?.to ?? 0) - (b.onset?.to ?? 0) || RANK[b.priority] - RANK[a.priority]
}

function byWeight(a: EpisodeView, b: EpisodeView): number {
  return (
    Number(b.unacknowledged > 0) - Number(a.unacknowledged > 0) ||
    RANK[a.priority] - RANK[b.priority] ||
    b.begunAt - a.begunAt
  )
}
