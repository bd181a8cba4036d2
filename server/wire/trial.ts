import { z } from 'zod'
import type { FigureDescription, UtcMs } from './figure.ts'
import type { CheckText, CheckView, RunFindings, TheoryView, TrialResult } from './findings.ts'
import type { Caution } from './plant.ts'
import type { Coverage, HeldView, HoldView, PointState, SteadyView, TrialPoint, TypedMeans } from './point.ts'
import { number, objectOf, text, textUpTo, time, timeOrNull } from './shape.ts'
import type { TraceChannel, TraceCondition, TraceState, TraceTogether, TraceView } from './trace.ts'

/**
 * Guided tests: what they ask for, how a run of one stands, and what it says. A trial takes points, which are means
 * over steady windows, or traces, which are what happens over time. Shared by server and browser.
 */
export type Takes = 'points' | 'traces'

/** A trial as it can, or cannot, be done at one plant. */
export type TrialView = PointTrialView | TraceTrialView

interface TrialHead {
  id: string
  name: string
  /** What one learns from it. */
  aim: string
  /** Figures that it speaks of: every one that a point stores, or that conditions and typed values are about. */
  figures: FigureDescription[]
  needs: { figure: string; name: string; isThere: boolean }[]
  /** Why it cannot be done here, one sentence each; empty where it can. */
  lacking: string[]
  cautions: Caution[]
  /** Steps in words. */
  method: string[]
  /** What a sound result looks like. */
  checks: CheckText[]
}

export interface PointTrialView extends TrialHead {
  takes: 'points'
  hold: HoldView[]
  vary: {
    figure: string
    /** How a person changes it, e.g. "jets, load or head". */
    by: string
    /** Values worth visiting, ascending, in the figure's unit; empty where the plant file gives no ratings. */
    suggested: number[]
    /** Only the suggested values can be set, e.g. by opening jets. */
    isStepped: boolean
  }
  abscissa: string
  ordinate: string
  /** The same curve in quantities that do not depend on the head, where the plant has them. */
  unitAbscissa: string | null
  unitOrdinate: string | null
  /** Nothing measures these here; a run may be begun in which one of them is typed at each point. */
  typeable: { figure: string; name: string }[]
  /** Read from a simple instrument and typed at each point; empty where everything is measured. */
  typed: { figure: string; name: string; means: TypedMeans[] }[]
  /** The curve that is laid through the points, in words or as a formula. */
  fit: string
}

export interface TraceTrialView extends TrialHead {
  takes: 'traces'
  /** Drawn first. */
  main: string
  channels: TraceChannel[]
  /** Traces that make a run complete. */
  repeats: number
  secondsBefore: number
  longestSeconds: number
  /** What begins and what ends a trace, in words. */
  begins: string
  ends: string
  /** What is kept, how much of it at most, and what happens then. */
  policy: string
  /** What is typed beside the main quantity where the trial needs something that is not measured, and why. */
  typedPoint: { figure: string; words: string } | null
  /** What happens to a trace when the server is started anew. */
  afterRestart: 'goOn' | 'close'
}

export const runSummary = z
  .object({
    id: number,
    plant: text,
    trial: text,
    trialName: text,
    name: text,
    className: text.describe('As given, like group and year; "" where not'),
    group: text,
    year: text,
    startedAt: time,
    finishedAt: timeOrNull,
    by: text,
    notes: text,
    takes: z.enum(['points', 'traces']),
    kept: number.describe('How many of these'),
    rejected: number,
  })
  .meta({ id: 'Run' })
/** A saved run, without its points. */
export type RunSummary = z.output<typeof runSummary>

export const trialsReply = z.object({
  trials: z.array(objectOf<TrialView>('A trial as it can, or cannot, be done here')),
  underWay: runSummary.nullable().describe('The run under way at the plant'),
})
export type TrialsReply = z.output<typeof trialsReply>

const runChoices = z.object({
  trials: z.array(z.object({ id: text, name: text })),
  classes: z.array(text),
  groups: z.array(text),
  years: z.array(text).describe('Newest first'),
})
export type RunChoices = z.output<typeof runChoices>

export const runsReply = z.object({
  runs: z.array(runSummary),
  total: number.describe('How many match, on all pages'),
  before: number.nullable().describe('`before` of the next page; null on the last'),
  choices: runChoices.describe('What to choose from, whatever was chosen'),
})
/** Saved runs, newest first, a page at a time. */
export type RunsReply = z.output<typeof runsReply>

/** Where a run under way stands and what to do now. */
export type Guidance = PointGuidance | TraceGuidance

interface GuidanceHead {
  at: UtcMs
  /** In words, e.g. "Discharge is still moving." */
  sentence: string
  setting: string
}

export interface PointGuidance extends GuidanceHead {
  takes: 'points'
  state: PointState
  held: HeldView[]
  steady: SteadyView[]
  /** How long everything has been steady, and how long it has to be. */
  steadySeconds: number
  windowSeconds: number
  /** Point that holds, or repeats, the present state. */
  point: number | null
  abscissa: number | null
  ordinate: number | null
  coverage: Coverage
}

export interface TraceGuidance extends GuidanceHead {
  takes: 'traces'
  state: TraceState
  conditions: TraceCondition[]
  /** Kept traces, and how many are wanted. */
  kept: number
  wanted: number
  /** Of the trace under way. */
  seconds: number
  longestSeconds: number
  readings: number
  /** Readings lost because the disk refused them for too long. */
  lost: number
  /** The main quantity now. */
  value: number | null
}

const theory = objectOf<TheoryView>('What the plant file of then predicts; null where it says nothing')
const result = objectOf<TrialResult>('The curve through the kept points, or what it lacks')
const resultsHead = z.object({
  points: z
    .array(objectOf<TrialPoint>('A point with its figures and their uncertainties'))
    .describe('Captured and typed ones; in a run of traces only typed ones'),
  checks: z.array(objectOf<CheckView>('What a sound result looks like, and what the run says to it')),
})

const pointResults = resultsHead.extend({
  takes: z.literal('points'),
  result,
  unitResult: result.nullable().describe('The same in the unit quantities; null where the trial has none'),
  theory: theory.nullable(),
  unitTheory: theory.nullable(),
  findings: objectOf<RunFindings>('What points and result say besides the one curve'),
})
/** Everything but the points themselves is made from the kept ones. */
export type PointResults = z.output<typeof pointResults>

const traceResults = resultsHead.extend({
  takes: z.literal('traces'),
  traces: z.array(objectOf<TraceView>('A trace and what it says')),
  together: objectOf<TraceTogether>('What the kept traces say together'),
})
export type TraceResults = z.output<typeof traceResults>

const pointRun = pointResults.extend({
  run: runSummary,
  trial: objectOf<PointTrialView>('The trial as it was when the run began'),
  guidance: objectOf<PointGuidance>('What to do next; only while the run is under way').nullable(),
})
export type PointRunReply = z.output<typeof pointRun>

const traceRun = traceResults.extend({
  run: runSummary,
  trial: objectOf<TraceTrialView>('The trial as it was when the run began'),
  guidance: objectOf<TraceGuidance>('What to do next; only while the run is under way').nullable(),
})
export type TraceRunReply = z.output<typeof traceRun>

export const runReply = z.discriminatedUnion('takes', [pointRun, traceRun])
export type RunReply = z.output<typeof runReply>

const names = {
  className: textUpTo(80).exactOptional(),
  group: textUpTo(80).exactOptional(),
  year: textUpTo(20).exactOptional(),
}

export const runRequest = z.strictObject({
  trial: textUpTo(64),
  typed: textUpTo(64).exactOptional().describe('Figure that is typed at each point in place of an estimate'),
  name: textUpTo(80).min(1),
  ...names,
})
export type RunRequest = z.input<typeof runRequest>

export const verdictRequest = z.strictObject({
  verdict: z.enum(['kept', 'rejected']),
  reason: textUpTo(300).exactOptional(),
})
/** Of a point or of a trace. */
export type VerdictRequest = z.input<typeof verdictRequest>

export const notesRequest = z.strictObject({
  name: textUpTo(80).min(1).exactOptional(),
  ...names,
  notes: textUpTo(4000).exactOptional(),
})
/** What may be edited; the readings may not. */
export type NotesRequest = z.input<typeof notesRequest>

const notesVersion = z.object({
  at: time,
  by: text.describe('Who saved it'),
  name: text,
  className: text,
  group: text,
  year: text,
  notes: text,
})
/** Names and notes as somebody saved them. */
export type NotesVersion = z.output<typeof notesVersion>

export const notesReply = z.object({
  versions: z.array(notesVersion).describe('Newest first; the last is from the start of the run'),
})
export type NotesReply = z.output<typeof notesReply>
