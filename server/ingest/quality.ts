import type { Instrument } from '../plant/plant.ts'
import type { Quality } from '../wire/figure.ts'
import { createClockWatch } from './clockWatch.ts'
import { NEAR_SHARE, type Scaled, SLACK_SHARE } from './scale.ts'
import { createSourceWatch, DOUBT_WORDS, type SourceDoubt } from './sourceWatch.ts'

/**
 * What makes of a sample a reading, and how far it is to be trusted.
 *
 * | what is found                                 | what is done                                          | counted    |
 * |-----------------------------------------------|-------------------------------------------------------|------------|
 * | outside the range by ≤ 0.5 % of the span      | kept, good: noise about zero is no fault              |            |
 * | outside the range by ≤ 5 % of the span        | kept, uncertain, "above range 4 bar"                  |            |
 * | further outside                               | kept, bad, "above range 4 bar"                        |            |
 * | a loop current                                | its own bands instead of the range (scale.ts)         |            |
 * | retained, no time of its own                  | `ageUnknown`, uncertain, stamped with arrival         |            |
 * | the same, and equal to the latest reading     | dropped: the broker repeats itself after a reconnect  | duplicates |
 * | retained, with a time of its own              | a reading of that time                                |            |
 * | time ≤ 1 s ahead of this clock                | kept with its time: clocks differ a little            |            |
 * | time > 1 s ahead                              | stamped with arrival, uncertain, "device clock ahead" | future     |
 * | time before 2020                              | stamped with arrival, uncertain, "clock not set"      | clockUnset |
 * | time > 24 h ago, from a periodic instrument   | `late`: recorded with its time, not the present value | tooOld     |
 * | time before that of the latest reading        | `late`                                                | outOfOrder |
 * | what a broker may have kept, older than stale  | `late`                                                | kept       |
 * | the same, without a time to believe           | `ageUnknown`, uncertain                               |            |
 * | any of these that is late, but the clock      | stamped with arrival, uncertain, "clock behind":       | clockBehind|
 * | keeps pace for a second (clockWatch.ts)       | it was set back, and over-speed must not go unseen    |            |
 * | time and value equal to the latest reading's  | dropped                                               | duplicates |
 * | same time, other value                        | kept, the last one counts                             |            |
 *
 * A reading without a time of its own is never out of order: this clock may be set back, and a plant must not go
 * blind because of that. For the same reason a latest time that has come to lie in the future is forgotten.
 */
export interface Judgement {
  measuredAt: number
  quality: Quality
  reasons: string[]
  ageUnknown: boolean
  late: false | 'outOfOrder' | 'tooOld' | 'kept'
  /** It came after the figures of its moment had been worked out without it. */
  overdue: boolean
  doubt: SourceDoubt | undefined
}

export interface SampleFacts {
  /** Value in the instrument's unit, with what scaling said of it. */
  scaled: Scaled
  /** Time of measurement that the payload carries. */
  at: number | undefined
  /** What decoding found odd. */
  doubt: string | undefined
  receivedAt: number
  retained: boolean
  /** The broker may have kept it while nobody was there. */
  mayBeKept: boolean
  sender: string | undefined
}

export interface QualityCounters {
  duplicates: number
  outOfOrder: number
  future: number
  clockUnset: number
  tooOld: number
  clockBehind: number
  kept: number
}

/** Clocks of devices may be ahead by this much [ms]: what is ahead makes all that is not look late. */
export const AHEAD_LIMIT_MS = 1000
/** They may be behind by this much [ms] and still be believed. */
const BEHIND_LIMIT_MS = 5000
/** A periodic instrument's reading older than this [ms] is history, whatever else is known. */
export const OLD_LIMIT_MS = 86_400_000
/** What a broker kept of a topic that speaks only on change is history after this time [ms]. */
const KEPT_LIMIT_MS = 60_000
/** No plant of this server was measured before; a clock that says so was never set. */
const EARLIEST = Date.UTC(2020, 0, 1)

/** Judges the samples of one instrument, one after the other. Undefined: a duplicate, to be dropped. */
export type Judge = (facts: SampleFacts) => Judgement | undefined

export function createJudge(instrument: Instrument, counters: QualityCounters): Judge {
  const limits = instrument.scale?.kind === 'loop' ? undefined : instrument.range
  let newestAt = Number.NEGATIVE_INFINITY
  let newestValue = Number.NaN
  const keptLimit = instrument.periodic ? instrument.staleAfterMs : KEPT_LIMIT_MS
  const overdueAfter = instrument.periodic ? instrument.staleAfterMs : BEHIND_LIMIT_MS
  const watch = createClockWatch()
  const watchSource = createSourceWatch()

  function isRepeated(value: number, at: number | undefined, ageUnknown: boolean): boolean {
    return value === newestValue && (ageUnknown || at === newestAt)
  }

  return (facts) => {
    const { scaled, at, doubt, receivedAt, retained, mayBeKept } = facts
    const { value } = scaled
    if (newestAt > receivedAt + AHEAD_LIMIT_MS) newestAt = Number.NEGATIVE_INFINITY
    const ageUnknown = retained ? at === undefined : mayBeKept && (at === undefined || at < EARLIEST)
    if (isRepeated(value, at, ageUnknown)) {
      counters.duplicates++
      return undefined
    }
    const judged: Judgement = {
      measuredAt: receivedAt,
      quality: 'good',
      reasons: [],
      ageUnknown,
      late: false,
      overdue: false,
      doubt: undefined,
    }
    if (scaled.reason !== undefined) worsen(judged, scaled.quality, scaled.reason)
    if (doubt !== undefined) worsen(judged, 'uncertain', doubt)
    if (limits) judgeRange(judged, value, { limits, unit: instrument.unit.print })
    if (ageUnknown)
      worsen(judged, 'uncertain', `${retained ? 'retained' : 'kept by the broker'}, age unknown`)
    const isStamped = at !== undefined && judgeTime(judged, { at, receivedAt }, counters)
    if (isStamped) judged.late = lateness(judged.measuredAt, facts)
    if (isStamped && !retained) correctClock(judged, receivedAt)
    judged.overdue = judged.late !== false || (!retained && receivedAt - judged.measuredAt > overdueAfter)
    if (!retained) doubtSource(judged, facts)
    if (judged.late) counters[judged.late]++
    else if (!ageUnknown) {
      newestAt = judged.measuredAt
      newestValue = value
    }
    return judged
  }

  function doubtSource(judged: Judgement, facts: SampleFacts): void {
    const { at, receivedAt } = facts
    const isClockOdd = at !== undefined && judged.measuredAt === receivedAt && at !== receivedAt
    judged.doubt = watchSource(facts, judged, isClockOdd)
    // A clock that disagrees has said so already, in its own words.
    if (judged.doubt && judged.doubt !== 'clock') worsen(judged, 'uncertain', DOUBT_WORDS[judged.doubt])
  }

  /** A clock that was set back would make every reading late until it has caught up. */
  function correctClock(judged: Judgement, receivedAt: number): void {
    const behind = watch.behind(judged.measuredAt, receivedAt, judged.late !== false)
    if (behind === undefined) return
    judged.late = false
    if (behind <= BEHIND_LIMIT_MS) return
    counters.clockBehind++
    worsen(judged, 'uncertain', `device clock behind ${spanText(behind)}`)
    judged.measuredAt = receivedAt
  }

  function lateness(measuredAt: number, { receivedAt, mayBeKept, retained }: SampleFacts): Judgement['late'] {
    const age = receivedAt - measuredAt
    if (mayBeKept && !retained && age > keptLimit) return 'kept'
    if (instrument.periodic && age > OLD_LIMIT_MS) return 'tooOld'
    return measuredAt < newestAt && 'outOfOrder'
  }
}

/** Takes over the payload's time where it is believable, and says whether it did. */
function judgeTime(
  judged: Judgement,
  { at, receivedAt }: { at: number; receivedAt: number },
  counters: QualityCounters,
): boolean {
  if (at - receivedAt > AHEAD_LIMIT_MS) {
    counters.future++
    worsen(judged, 'uncertain', `device clock ahead ${spanText(at - receivedAt)}`)
    return false
  }
  if (at < EARLIEST) {
    counters.clockUnset++
    worsen(judged, 'uncertain', 'device clock not set')
    return false
  }
  judged.measuredAt = at
  return true
}

function judgeRange(
  judged: Judgement,
  value: number,
  { limits, unit }: { limits: readonly [number, number]; unit: string },
): void {
  const [low, high] = limits
  const beyond = Math.max(low - value, value - high)
  if (beyond <= SLACK_SHARE * (high - low)) return
  const side = value > high ? `above range ${high}` : `below range ${low}`
  worsen(judged, beyond <= NEAR_SHARE * (high - low) ? 'uncertain' : 'bad', `${side} ${unit}`.trim())
}

function worsen(judged: Judgement, to: Quality, reason: string): void {
  if (to === 'bad' || judged.quality === 'good') judged.quality = to
  judged.reasons.push(reason)
}

const SPANS: [unit: string, ms: number][] = [
  ['years', 365.25 * 86_400_000],
  ['days', 86_400_000],
  ['h', 3_600_000],
  ['min', 60_000],
]

/** "12 s", "25 min", "3 h"; the largest unit of which there are at least two. */
function spanText(ms: number): string {
  const [unit, size] = SPANS.find(([, one]) => ms >= 2 * one) ?? ['s', 1000]
  const count = Math.round(ms / size)
  return count > 1000 && unit === 'years' ? 'more than 1000 years' : `${count} ${unit}`
}
