import { z } from 'zod'
import { replayView } from './scene.ts'
import { figureId, flag, number, text, time, whole } from './shape.ts'

/** A recording that is being shown. Shared by server and browser. */

const moment = z.number().int().min(0).max(8_640_000_000_000_000)

const mark = z.object({ at: time, name: text.describe('E.g. "Point 3"') })
export type ReplayMark = z.output<typeof mark>

export const replaySummary = replayView
  .extend({
    id: number,
    scene: text.describe('What browsers join'),
    plant: text,
    plantName: text,
    runName: text.nullable().describe('Null for any other span'),
    hidden: z.array(text).describe('Hidden by hand; what follows from them is hidden as well'),
    marks: z.array(mark).describe('Moments to stop at: the points of the run'),
    waits: text.nullable().describe('Why it does not go on; null while it does'),
  })
  .meta({ id: 'Replay' })
export type ReplaySummary = z.output<typeof replaySummary>

export const replaysReply = z.object({ replays: z.array(replaySummary) })
export type ReplaysReply = z.output<typeof replaysReply>

export const replayRequest = z.union(
  [z.strictObject({ run: whole }), z.strictObject({ from: moment, to: moment })],
  { error: 'expected a run, or a span by "from" and "to"' },
)
/** A saved run, or any span. */
export type ReplayRequest = z.output<typeof replayRequest>

export const replayControl = z.strictObject({
  isPaused: flag.exactOptional(),
  speed: number.exactOptional().describe('0.25, 0.5, 1, 2, 4, 8 or 16'),
  at: moment.exactOptional().describe('Recorded moment, ms UTC'),
  hidden: z.array(figureId).max(40).exactOptional(),
})
/** What is to change. */
export type ReplayControl = z.output<typeof replayControl>
