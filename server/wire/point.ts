import { z } from 'zod'
import type { UtcMs } from './figure.ts'
import { figureId, flag, textUpTo } from './shape.ts'

/** Points of a trial: means over steady windows. Shared by server and browser. */

/** One figure of a point: a mean over a steady window, or a number that somebody read. */
export interface PointFigure {
  id: string
  /** In the figure's SI unit. */
  mean: number
  /** Standard deviation of the readings. */
  deviation: number
  /** Number of independent readings that the window was worth; type A has one degree of freedom less. */
  effectiveCount: number
  /** Standard uncertainty of the mean from scatter. */
  typeA: number
  /** Standard uncertainty from the instruments' accuracy; averaging does not reduce it. */
  typeB: number
  /** Half-width of the 95 % interval. */
  u95: number
  /** Signed part of each instrument in type B, by instrument id. */
  contributions: Record<string, number>
  /** Of that, what comes from rectangular limits, without sign; absent where there is none. */
  rectangular?: Record<string, number>
}

/** Whether a point or trace counts, as somebody decided last. */
export interface Standing {
  verdict: 'kept' | 'rejected'
  /** Why it was rejected; "" where it was not. */
  reason: string
  /** Who decided, and when; absent where nobody has, it is kept then. */
  decided?: { by: string; at: UtcMs }
}

export interface TrialPoint extends Standing {
  number: number
  /** End of the window, or time of the entry. */
  at: UtcMs
  /** Start of the window. */
  from: UtcMs
  samples: number
  /** combined: measured but for one value, which somebody typed. */
  origin: 'automatic' | 'manual' | 'combined'
  /** Who entered it, as signed in; for captured points who runs the trial. */
  by: string
  /** Who read the typed values, as whoever entered them says; absent where they say nothing. */
  measuredBy?: string
  /** From the switches, e.g. "jets 1, 2 · loads 2". */
  setting: string
  /** Number of the point that it repeats. */
  repeatOf: number | null
  figures: PointFigure[]
  /** Remarks on the quality of what was averaged. */
  remarks: string[]
}

const amount = z.strictObject({
  value: z.number(),
  unit: z.string().max(16),
  u: z.number().nonnegative().exactOptional().describe('Standard uncertainty'),
})

const simpleReading = z.strictObject({
  means: z
    .enum(['bucket', 'springBalance'])
    .describe('Volume over time gives discharge; force times arm gives torque'),
  first: amount.describe('Volume or force'),
  second: amount.describe('Time or arm'),
})
/** Two readings that make one value. */
export type SimpleReading = z.input<typeof simpleReading>
export type TypedMeans = SimpleReading['means']

export const manualPointRequest = z.strictObject({
  measuredBy: textUpTo(80)
    .exactOptional()
    .describe('Who read it, where that is somebody else than who is signed in'),
  figures: z.array(amount.extend({ figure: figureId })).max(40),
  isPresent: flag
    .exactOptional()
    .describe('The typed values belong to the present steady state: all else is taken from the instruments'),
  reading: simpleReading
    .extend({ figure: figureId })
    .exactOptional()
    .describe('In place of the value of one figure'),
})
/** A point that somebody read and typed. */
export type ManualPointRequest = z.input<typeof manualPointRequest>

export interface HoldView {
  figure: string
  /** In the figure's unit. */
  target: number
  /** Largest distance from the target, same unit. */
  tolerance: number
  /** What to do when it is below or above. */
  low: string
  high: string
}

/** resting: nobody looks, or the server was started anew: no point until somebody goes on · waiting: no values · off: a held quantity is off its target · settling · captured: this state is stored ·
 * duplicate: an earlier point has this state · storing: the disk refused the point, it is tried again · typing: steady, and a value is to be typed. */
export type PointState =
  | 'resting'
  | 'waiting'
  | 'off'
  | 'settling'
  | 'captured'
  | 'duplicate'
  | 'storing'
  | 'typing'

export interface HeldView {
  figure: string
  value: number | null
  target: number
  tolerance: number
  state: 'held' | 'low' | 'high' | 'unknown'
  /** What to do; "" while it is held. */
  advice: string
}

export interface SteadyView {
  figure: string
  state: 'steady' | 'moving' | 'scattering' | 'unknown'
}

export interface Coverage {
  suggested: { value: number; isCovered: boolean }[]
  /** Value of the abscissa that would help most; null when there are enough points. */
  next: number | null
  /** Why, in words. */
  why: string
}
