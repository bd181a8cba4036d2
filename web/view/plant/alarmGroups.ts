import { type AlarmView, type EpisodeView, isUnacknowledged } from '../../../server/wire/alarm.ts'
import { episodesOf } from '../../../server/wire/episode.ts'
import { groupBy } from '../../../server/wire/groupBy.ts'
import { priorityNumbers } from '../../format/words.ts'

/** What is listed as one: an alarm by itself, or an event with what came first and what followed. */
export interface ListedEvent {
  episode: EpisodeView | null
  /** What people look at first: what came first, and whatever is graver than that. */
  heads: AlarmView[]
  /** What follows from it: folded. */
  followers: AlarmView[]
}

/** Alarms of one event together, in the order of the gravest of each. */
export function listEvents(listed: readonly AlarmView[], all: readonly AlarmView[]): ListedEvent[] {
  const episodes = new Map(episodesOf(all).map((one) => [one.id, one]))
  const keyOf = ({ id, episode }: AlarmView) =>
    episode !== null && episodes.has(episode) ? `of ${episode}` : id
  return [...groupBy(listed, keyOf).values()].map((alarms) => {
    const episode = alarms.length > 1 ? (episodes.get(alarms[0]!.episode ?? '') ?? null) : null
    if (!episode) return { episode, heads: alarms, followers: [] }
    const isHead = (one: AlarmView) => one === alarms[0] || episode.first.includes(one.id)
    return {
      episode,
      heads: alarms.filter(isHead),
      followers: alarms.filter((one) => !isHead(one)),
    }
  })
}

/** The alarms of a plant by what they want of a person. */
export interface AlarmGroups {
  /** Announced: somebody has to do or answer something; worst first. */
  listed: AlarmView[]
  /** Normal as far as anybody knows, but the input is lost: said in one line, since their inputs are listed. */
  blind: AlarmView[]
  /** Shelved or out of service: always in view as a count. */
  withheld: AlarmView[]
  /** Notices that stand. */
  notices: AlarmView[]
  /** Watched and normal, or suppressed by design. */
  quiet: AlarmView[]
  /** Set while more alarms come than a person can follow. */
  flood: AlarmView | undefined
}

export function groupAlarms(alarms: readonly AlarmView[]): AlarmGroups {
  const flood = alarms.find((alarm) => alarm.kind === 'flood')
  const rest = alarms.filter((alarm) => alarm !== flood)
  const isNotice = (alarm: AlarmView) => alarm.entry === 'notice'
  const isWithheld = ({ state }: AlarmView) => state === 'shelved' || state === 'outOfService'
  const isCalm = ({ state }: AlarmView) => state === 'normal' || state === 'suppressed'
  const shown = rest.filter((alarm) => !isNotice(alarm) && !isWithheld(alarm))
  return {
    listed: shown.filter((alarm) => !isCalm(alarm)).sort(byUrgency),
    blind: shown.filter((alarm) => isCalm(alarm) && alarm.unknown),
    withheld: rest.filter(isWithheld),
    notices: rest.filter((alarm) => isNotice(alarm) && !isWithheld(alarm) && !isCalm(alarm)),
    quiet: rest.filter((alarm) => !isWithheld(alarm) && isCalm(alarm) && (isNotice(alarm) || !alarm.unknown)),
    flood: flood?.active ? flood : undefined,
  }
}

/** Not acknowledged before acknowledged, then by priority; what follows a first-out alarm after it; then newest first. */
function byUrgency(a: AlarmView, b: AlarmView): number {
  return (
    Number(isUnacknowledged(b.state)) - Number(isUnacknowledged(a.state)) ||
    priorityNumbers[a.priority] - priorityNumbers[b.priority] ||
    Number(a.after !== null) - Number(b.after !== null) ||
    (b.raisedAt ?? 0) - (a.raisedAt ?? 0)
  )
}
