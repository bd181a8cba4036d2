import { median } from '../statistics/quantiles.ts'
import type { AlarmPerformance, JournalEntry } from '../wire/alarm.ts'
import { groupBy } from '../wire/groupBy.ts'
import { FLOOD_BEGINS_ABOVE, FLOOD_ENDS_BELOW, FLOOD_WINDOW_MS } from './flood.ts'

const MINUTE_MS = 60_000
/** This many raises of one alarm within a minute are chattering. */
const CHATTER_COUNT = 3
/** An alarm that stands longer than this [ms] says nothing any more. */
const STANDING_MS = 24 * 3_600_000
const TOP = 10

/**
 * How the alarms did in a span, by the measures of IEC 62682 / ISA-18.2 and EEMUA 191 (from memory): average at most
 * 1 in ten minutes, flood from more than 10 in ten minutes until fewer than 5, chattering from 3 in a minute,
 * standing from 24 h.
 *
 * @param entries Journal of one plant, oldest first. Entries before `from` tell what was standing then.
 * @param span [ms UTC], `from` inside, `to` outside.
 */
export function alarmPerformance(
  entries: readonly JournalEntry[],
  span: { from: number; to: number },
): AlarmPerformance {
  const { from, to } = span
  const ours = entries.filter((one) => one.entry === 'alarm' && one.at < to)
  const inside = ours.filter((one) => one.at >= from)
  const raises = inside.filter((one) => one.event === 'raise')
  const times = raises.map((one) => one.at)
  const floods = floodsIn(times, to)
  const flooded = floods.reduce((sum, one) => sum + one.to - one.from, 0)
  const answers = answersIn(ours, from)
  return {
    ...span,
    raised: raises.length,
    averagePerTenMinutes: (raises.length * FLOOD_WINDOW_MS) / (to - from),
    mostInTenMinutes: mostWithin(times, FLOOD_WINDOW_MS),
    shareInFlood: flooded / (to - from),
    floods,
    byPriority: {
      high: raises.filter((one) => one.priority === 'high').length,
      medium: raises.filter((one) => one.priority === 'medium').length,
      low: raises.filter((one) => one.priority === 'low').length,
    },
    topTen: topOf(raises),
    chattering: chatteringIn(raises),
    standing: standingIn(ours, to),
    acknowledged: answers.seconds.length,
    medianAcknowledgeSeconds: answers.seconds.length === 0 ? null : median(answers.seconds),
    longestAcknowledgeSeconds: answers.seconds.length === 0 ? null : Math.max(...answers.seconds),
    neverAcknowledged: answers.open,
    shelvings: inside.filter((one) => one.event === 'shelve').length,
  }
}

/** Most times within any window of this length; times ascend. */
function mostWithin(times: readonly number[], windowMs: number): number {
  let most = 0
  let oldest = 0
  times.forEach((at, i) => {
    while (at - times[oldest]! >= windowMs) oldest++
    most = Math.max(most, i - oldest + 1)
  })
  return most
}

/** From the raise that makes it more than ten, until the raises that are left are fewer than five. */
function floodsIn(times: readonly number[], to: number): AlarmPerformance['floods'] {
  const floods: AlarmPerformance['floods'] = []
  // The window is times from `oldest` to before `end`: a list of its own, made anew with each raise, took seconds in a long flood.
  let oldest = 0
  let end = 0
  let open: { from: number; raised: number } | undefined
  const endBefore = (at: number) => {
    const last = end - oldest < FLOOD_ENDS_BELOW ? undefined : times[end - FLOOD_ENDS_BELOW]
    const endsAt = last === undefined ? at : last + FLOOD_WINDOW_MS
    if (!open || endsAt > at) return
    floods.push({ ...open, to: endsAt })
    open = undefined
  }
  for (const at of times) {
    endBefore(at)
    while (oldest < end && at - times[oldest]! >= FLOOD_WINDOW_MS) oldest++
    end++
    if (open) open.raised++
    else if (end - oldest > FLOOD_BEGINS_ABOVE) open = { from: at, raised: end - oldest }
  }
  endBefore(to)
  if (open) floods.push({ ...open, to })
  return floods
}

const alarmOf = ({ alarm }: JournalEntry) => alarm

function topOf(raises: readonly JournalEntry[]): AlarmPerformance['topTen'] {
  return [...groupBy(raises, alarmOf)]
    .map(([alarm, group]) => ({ alarm, raised: group.length, share: group.length / raises.length }))
    .sort((a, b) => b.raised - a.raised || (a.alarm < b.alarm ? -1 : 1))
    .slice(0, TOP)
}

function chatteringIn(raises: readonly JournalEntry[]): AlarmPerformance['chattering'] {
  return [...groupBy(raises, alarmOf)].flatMap(([alarm, group]) => {
    const times = group.map((one) => one.at)
    const bursts = burstsIn(times)
    return bursts === 0 ? [] : [{ alarm, bursts, mostInOneMinute: mostWithin(times, MINUTE_MS) }]
  })
}

/** A burst goes on for as long as every raise has two others within the minute before it. */
function burstsIn(times: readonly number[]): number {
  let bursts = 0
  let lastIn = Number.NEGATIVE_INFINITY
  times.forEach((at, i) => {
    const third = times[i - CHATTER_COUNT + 1]
    if (third === undefined || at - third >= MINUTE_MS) return
    if (third > lastIn) bursts++
    lastIn = at
  })
  return bursts
}

/** Alarms whose condition has held without a break for more than a day, up to the end of the span. */
function standingIn(entries: readonly JournalEntry[], to: number): AlarmPerformance['standing'] {
  return [...groupBy(entries, alarmOf)].flatMap(([alarm, group]) => {
    let longest: { since: number; ms: number } | undefined
    let since: number | undefined
    const close = (at: number) => {
      if (since !== undefined && at - since > STANDING_MS && at - since > (longest?.ms ?? 0))
        longest = { since, ms: at - since }
      since = undefined
    }
    for (const { at, event } of group) {
      if (event === 'raise') since ??= at
      else if (event === 'return' || event === 'shelve' || event === 'takeOut') close(at)
    }
    close(to)
    return longest ? [{ alarm, since: longest.since, hours: longest.ms / 3_600_000 }] : []
  })
}

/** Seconds from raise to acknowledgement; a raise before the answer to the last one waits together with it. */
function answersIn(entries: readonly JournalEntry[], from: number): { seconds: number[]; open: number } {
  const seconds: number[] = []
  let open = 0
  for (const group of groupBy(entries, alarmOf).values()) {
    let raisedAt: number | undefined
    for (const { at, event } of group) {
      if (event === 'raise') raisedAt ??= at
      else if (event === 'acknowledge') {
        if (raisedAt !== undefined && raisedAt >= from) seconds.push((at - raisedAt) / 1000)
        raisedAt = undefined
      } else if (event === 'shelve' || event === 'takeOut') raisedAt = undefined
    }
    if (raisedAt !== undefined && raisedAt >= from) open++
  }
  return { seconds, open }
}
