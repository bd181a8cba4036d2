import type { Reading } from '../ingest/reading.ts'
import type { Quality } from '../wire/figure.ts'
import type { FigureLookup, Verdict } from './inputs.ts'

/** One reading as it arrived. */
export interface RawLook {
  quantity: string
  /** The value, or the peak that the instrument held since its reading before. */
  value: number
  at: number
  quality: Quality
}

/** What alarms may take of a reading; undefined for one that says nothing about the present. */
export function rawLookOf(reading: Reading): RawLook | undefined {
  if (reading.ageUnknown || reading.late) return undefined
  const { quantity, value, peak, measuredAt, quality } = reading
  return { quantity, value: peak === undefined ? value : Math.max(value, peak), at: measuredAt, quality }
}

/** The newest raw look of one quantity, and the figure where there is none yet. */
export interface RawInput {
  take(look: RawLook): void
  /**
   * The newest look. The raw one is good for as long as the figure does not go stale; before the first, after a
   * restart or a change of the plant file, the figure stands in.
   */
  look(now: number): Omit<Verdict, 'holds'>
}

export function createRawInput(figure: string, figures: FigureLookup): RawInput {
  let last: RawLook | undefined
  return {
    take(look) {
      last = look
    },
    look(now) {
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
