import { z } from 'zod'
import type { Units } from './amounts.ts'
import type { UtcMs } from './figure.ts'
import type { Standing } from './point.ts'
import { flag, number, text, time } from './shape.ts'

/** Trials that record a trace: what happens over time, as the readings came. Shared by server and browser. */

/** One instrument of a trace. */
export interface TraceChannel extends Units {
  instrument: string
  /** What it measures, e.g. "speed" or "jetOpen.2". */
  quantity: string
  name: string
  /** Expected time between readings [ms]; null for what is sent only on change. */
  periodMs: number | null
}

/** recording: under way · complete: the end that the trial waits for · time: the longest time was over · stopped: by
 * hand · interrupted: the server was started anew · full: the most readings were kept · notStored: the disk
 * refused. */
export type TraceEnding = 'recording' | 'complete' | 'time' | 'stopped' | 'interrupted' | 'full' | 'notStored'

export interface TraceView extends Standing {
  number: number
  /** First reading that was kept, what triggered, and the end. */
  from: UtcMs
  triggeredAt: UtcMs
  endedAt: UtcMs | null
  ending: TraceEnding
  /** In words. */
  endingWords: string
  /** From the switches when it began. */
  setting: string
  readings: number
  result: TraceResult | null
}

/** What one trace says. */
export type TraceResult =
  | { isReduced: false; lacking: string }
  | {
      isReduced: true
      /** Time to which traces are aligned. */
      zeroAt: UtcMs
      amounts: TraceAmount[]
      /** e.g. "The dump load was at its end." */
      remarks: string[]
      /** Fitted or counted curves, over seconds from `zeroAt` or another abscissa. */
      curves: TraceCurve[]
    }

/** What a number is of, and how it is read. */
export interface AmountText extends Units {
  name: string
  symbol: string
}

export interface TraceAmount extends AmountText {
  id: string
  /** Null where it cannot be told; `words` says why. */
  value: number | null
  /** Half-width of the 95 % interval; null where none is stated. */
  u95: number | null
  words: string
}

export interface TraceCurve extends Units {
  id: string
  /** fitted: over the main channel · residual: measured less fitted · other: a picture of its own. */
  kind: 'fitted' | 'residual' | 'other'
  name: string
  xName: string
  xUnit: string
  xViewUnit: string
  yName: string
  x: number[]
  y: number[]
}

/** What the kept traces say together. */
export interface TraceTogether {
  /** "" when there is a result. */
  lacking: string
  amounts: TogetherAmount[]
  remarks: string[]
}

export interface TogetherAmount extends AmountText {
  id: string
  /** Kind of trace that it is of, e.g. "+25 %"; absent where there is only one kind. */
  group?: string
  /** How many traces it comes from. */
  count: number
  value: number
  /** Standard deviation between the traces; null with one. */
  deviation: number | null
  /** Ends of the 95 % interval; null where none is stated. */
  low: number | null
  high: number | null
  /** What the plant file or a theory says; null where nothing. */
  expected: number | null
  expectedFrom: string
  /** Measured against expected in words; "" where there is nothing to compare. */
  compared: string
}

/** resting: not armed · preparing: to be brought to where it can begin · armed: waits for the trigger · recording ·
 * storing: the disk refuses readings, they are kept and tried again. */
export type TraceState = 'resting' | 'preparing' | 'armed' | 'recording' | 'storing'

export interface TraceCondition {
  label: string
  isMet: boolean
  /** What stands against it. */
  against: { figure: string; name: string; value: number | null; words: string }[]
  advice: string
}

export const traceReply = z.object({
  number,
  zeroAt: time.describe('Seconds count from here'),
  lines: z.array(z.object({ quantity: text, at: z.array(number), value: z.array(number) })),
})
/** Readings of a trace to draw; the pack has every one. */
export type TraceReply = z.output<typeof traceReply>

export const armRequest = z.strictObject({
  armed: flag.describe('False: stands down, and ends the trace under way'),
})
