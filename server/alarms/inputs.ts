import type { FigureLookupById } from '../derive/lookup.ts'
import type { Reading } from '../ingest/reading.ts'
import type { SourceDoubt } from '../ingest/sourceWatch.ts'
import type { Quality } from '../wire/figure.ts'

/** How a condition stands at this moment. */
export interface ConditionState {
  /** Undefined: nobody can say, because the input is missing or bad. */
  holds: boolean | undefined
  /** SI value to show; NaN for none. */
  value: number
  at: number
  quality: Quality
  /** Time of the reading that showed its beginning, where that is not this one. */
  since?: number
  /** Judged by a reading beyond the range of its instrument. */
  isBeyondRange?: true
  /** The figure is left blank by design, such as an efficiency at standstill: there is nothing to judge. */
  isBlank?: true
}

/** One reading as it arrived. */
export interface RawSample {
  quantity: string
  /** The value, or the peak that the instrument held since its reading before. */
  value: number
  at: number
  quality: Quality
  receivedAt: number
  /** Others with later times came before it. */
  isLate: boolean
  /** Why one cannot be sure of its source. */
  doubt: SourceDoubt | undefined
}

/** A late reading that was measured longer ago [ms] is history: it is judged as past (pastAlarms.ts). */
export const LATE_LIMIT_MS = 60_000

/**
 * What alarms may take of a reading; undefined for one that says nothing about the present. A late one may say it all
 * the same: a second source with a clock that is ahead makes every true reading late.
 */
export function rawSampleOf(reading: Reading): RawSample | undefined {
  const { measuredAt, receivedAt, late } = reading
  if (reading.ageUnknown || (late && receivedAt - measuredAt > LATE_LIMIT_MS)) return undefined
  return sampleOf(reading)
}

export function sampleOf(reading: Reading): RawSample {
  const { quantity, value, peak, measuredAt, receivedAt, quality, late } = reading
  const highest = peak === undefined ? value : Math.max(value, peak)
  return {
    quantity,
    value: highest,
    at: measuredAt,
    quality,
    receivedAt,
    isLate: late === true,
    doubt: reading.doubt,
  }
}

/** The newest sample of one quantity, and the figure where there is none yet. */
export interface RawInput {
  take(sample: RawSample): void
  /**
   * The raw sample is good for as long as the figure does not go stale; before the first, after a restart or a change
   * of the plant file, the figure stands in.
   */
  newest(now: number): Omit<ConditionState, 'holds'>
}

export function createRawInput(figure: string, figures: FigureLookupById): RawInput {
  let last: RawSample | undefined
  return {
    take(sample) {
      last = sample
    },
    newest(now) {
      const quality = figures.quality(figure)
      const staleAfter = figures.staleAfterMs(figure)
      const isFresh =
        last !== undefined && (Number.isFinite(staleAfter) ? now - last.at <= staleAfter : quality !== 'bad')
      if (last && isFresh) return { value: last.value, at: now, quality: last.quality }
      if (quality === 'bad') return { value: Number.NaN, at: now, quality }
      return { value: figures.value(figure), at: figures.at(figure) || now, quality }
    },
  }
}
