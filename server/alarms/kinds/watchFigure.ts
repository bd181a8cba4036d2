import type { Quality } from '../../wire/figure.ts'
import { type ConditionState, createRawInput } from '../inputs.ts'
import type { ConditionWatcher, Moment, WatcherInputs } from './kind.ts'

/** What a kind asks of the value of one figure. */
export interface FigureRule extends Pick<ConditionWatcher, 'isWorse'> {
  /** Whether the condition holds; undefined where nobody can say. */
  holds(value: number, wasHeld: boolean, moment: Moment): boolean | undefined
  /** A reading beyond the range of its instrument, on the side of the limit, holds: it is bad, and worse than the range can tell. */
  takesBeyondRange?: true
  /** Called instead while the figure is bad or blank. */
  lost?(): void
  /** What more there is to say. */
  detail?(isHeld: boolean): string | undefined
}

const BEYOND_RANGE =
  'beyond the range of its instrument: it may be worse than this, or the instrument is at fault'

/** Judges a figure on every tick. */
export function watchFigure(
  figure: string,
  { figures, wasHeld }: WatcherInputs,
  { holds, lost, detail, takesBeyondRange, ...rest }: FigureRule,
): ConditionWatcher {
  let isHeld = wasHeld
  let isBeyond = false

  /** While it is fresh: an instrument that is silent says nothing. */
  function beyondRange(now: number): number {
    const isFresh = now - figures.at(figure) <= figures.staleAfterMs(figure)
    return takesBeyondRange && isFresh ? figures.beyondRange(figure) : Number.NaN
  }

  return {
    ...rest,
    detail: () => (isBeyond ? BEYOND_RANGE : detail?.(isHeld)),
    judge(moment) {
      const { now } = moment
      const quality = figures.quality(figure)
      const value = quality === 'bad' ? Number.NaN : figures.value(figure)
      if (Number.isNaN(value)) lost?.()
      if (quality !== 'bad' && Number.isNaN(value)) return blankAt(now, quality)
      const beyond = quality === 'bad' ? beyondRange(now) : Number.NaN
      isBeyond = !Number.isNaN(beyond) && holds(beyond, isHeld, moment) === true
      if (isBeyond) {
        isHeld = true
        return {
          holds: true,
          value: beyond,
          at: figures.at(figure),
          quality: 'uncertain',
          isBeyondRange: true,
        }
      }
      const next = quality === 'bad' ? undefined : holds(value, isHeld, moment)
      if (next === undefined) return { holds: next, value: Number.NaN, at: now, quality: 'bad' }
      isHeld = next
      return { holds: next, value, at: figures.at(figure) || now, quality }
    },
  }
}

function blankAt(at: number, quality: Quality): ConditionState {
  return { holds: false, value: Number.NaN, at, quality, isBlank: true }
}

/** Judges an instrument on every reading as it comes in, and a derived figure on every tick. */
export function watchReadings(
  figure: string,
  { figures }: WatcherInputs,
  rule: Pick<ConditionWatcher, 'isWorse'> & {
    holds(value: number, at: number): boolean
    /** When it began, where that is not now. */
    since?(): number | undefined
  },
): ConditionWatcher {
  const input = createRawInput(figure, figures)
  const { holds, since, ...rest } = rule

  function judgeAt(now: number): ReturnType<ConditionWatcher['judge']> {
    const { value, at, quality } = input.newest(now)
    if (quality === 'bad') return { holds: undefined, value: Number.NaN, at, quality }
    if (Number.isNaN(value)) return blankAt(at, quality)
    const state = { holds: holds(value, at), value, at, quality }
    const began = since?.()
    return began === undefined ? state : { ...state, since: began }
  }

  return {
    ...rest,
    watches: figures.isDerived(figure) ? [] : [figure],
    takeSample(sample) {
      input.take(sample)
      return judgeAt(sample.at)
    },
    judge: ({ now }) => judgeAt(now),
  }
}
