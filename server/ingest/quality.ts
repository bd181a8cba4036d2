import type { Instrument } from '../plant/plant.ts'
import type { Quality } from '../wire/figure.ts'
import type { Scaled } from './scale.ts'

/**
 * What makes of a sample a reading, and how far it is to be trusted.
 *
 * | what is found                                   | what is done                                                  |
 * |-------------------------------------------------|---------------------------------------------------------------|
 * | outside the range by ≤ 5 % of the span          | kept, uncertain, "above range 4 bar"                          |
 * | further outside                                 | kept, bad                                                     |
 * | retained, no time of its own                    | kept as reading of now, uncertain, `ageUnknown`               |
 * | time ≤ 5 s ahead of this clock                  | kept with its time: clocks differ a little                    |
 * | time > 5 s ahead                                | stamped with the time of arrival, uncertain, counted "future" |
 * | older than the newest of this instrument        | passed on with its own time for history only, counted         |
 * | older than a day                                | the same, counted "too old"                                   |
 * | same time and value as the newest               | dropped, counted "duplicate"                                  |
 */
export interface Judgement {
  measuredAt: number
  quality: Quality
  reasons: string[]
  ageUnknown?: true
}

export interface SampleFacts {
  /** Value in the instrument's unit, with what scaling said of it. */
  scaled: Scaled
  /** Time of measurement that the payload carries. */
  at: number | undefined
  receivedAt: number
  retained: boolean
}

export interface QualityCounters {
  duplicates: number
  outOfOrder: number
  future: number
  tooOld: number
}

/** Clocks of devices may be ahead by this much [ms]. */
export const AHEAD_LIMIT_MS = 5000
/** Older than this [ms] is history, whatever else is known. */
export const OLD_LIMIT_MS = 86_400_000
/** Share of the span by which a value may lie outside the range and still be uncertain only. */
const NEAR_SHARE = 0.05

const NO_REASONS: string[] = []

/** Judges the samples of one instrument, one after the other. Undefined: a duplicate, to be dropped. */
export type Judge = (facts: SampleFacts) => Judgement | undefined

export function createJudge(instrument: Instrument, counters: QualityCounters): Judge {
  let newestAt = Number.NEGATIVE_INFINITY
  let newestValue = Number.NaN

  return ({ scaled, at, receivedAt, retained }) => {
    const reasons: string[] = []
    let quality = scaled.quality
    const worsen = (to: Quality, reason: string) => {
      if (to === 'bad' || quality === 'good') quality = to
      reasons.push(reason)
    }
    if (scaled.reason !== undefined) reasons.push(scaled.reason)
    const range = rangeFault(instrument, scaled.value)
    if (range) worsen(range.quality, range.reason)
    let measuredAt = at ?? receivedAt
    if (measuredAt - receivedAt > AHEAD_LIMIT_MS) {
      counters.future++
      worsen('uncertain', `device clock ahead ${spanText(measuredAt - receivedAt)}`)
      measuredAt = receivedAt
    }
    const ageUnknown = retained && at === undefined
    if (ageUnknown) worsen('uncertain', 'retained, age unknown')
    if (measuredAt < newestAt) {
      if (receivedAt - measuredAt > OLD_LIMIT_MS) counters.tooOld++
      else counters.outOfOrder++
    } else {
      if (at !== undefined && measuredAt === newestAt && scaled.value === newestValue) {
        counters.duplicates++
        return undefined
      }
      if (receivedAt - measuredAt > OLD_LIMIT_MS) counters.tooOld++
      newestAt = measuredAt
      newestValue = scaled.value
    }
    const judged = { measuredAt, quality, reasons: reasons.length === 0 ? NO_REASONS : reasons }
    return ageUnknown ? { ...judged, ageUnknown: true } : judged
  }
}

function rangeFault(
  { range, unit }: Instrument,
  value: number,
): { quality: Quality; reason: string } | undefined {
  if (!range) return undefined
  const [low, high] = range
  const beyond = Math.max(low - value, value - high)
  if (beyond <= 0) return undefined
  const side = value > high ? `above range ${high}` : `below range ${low}`
  return {
    quality: beyond <= NEAR_SHARE * (high - low) ? 'uncertain' : 'bad',
    reason: `${side} ${unit.print}`.trim(),
  }
}

function spanText(ms: number): string {
  const seconds = Math.round(ms / 1000)
  return seconds < 600 ? `${seconds} s` : `${Math.round(seconds / 60)} min`
}
