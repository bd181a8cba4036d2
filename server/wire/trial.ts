import type { FigureDescription, UtcMs } from './figure.ts'
import type { CheckText, CheckView, RunFindings, TheoryView, TrialResult } from './findings.ts'
import type { Caution } from './plant.ts'
import type { Coverage, HeldView, HoldView, PointState, SteadyView, TrialPoint, TypedMeans } from './point.ts'
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

/** A saved run, without its points. */
export interface RunSummary {
  id: number
  plant: string
  trial: string
  trialName: string
  name: string
  /** Class, group and year, as given; "" where not. */
  className: string
  group: string
  year: string
  startedAt: UtcMs
  finishedAt: UtcMs | null
  by: string
  notes: string
  takes: Takes
  /** How many of these. */
  kept: number
  rejected: number
}

/** GET /api/plants/:p/trials */
export interface TrialsReply {
  trials: TrialView[]
  /** The run under way at the plant. */
  underWay: RunSummary | null
}

/** GET /api/plants/:p/runs: saved runs, newest first, a page at a time. */
export interface RunsReply {
  runs: RunSummary[]
  /** How many match, on all pages. */
  total: number
  /** `before` of the next page; null on the last. */
  before: number | null
  /** What to choose from, whatever was chosen. */
  choices: RunChoices
}

export interface RunChoices {
  trials: { id: string; name: string }[]
  classes: string[]
  groups: string[]
  /** Newest first. */
  years: string[]
}

/** What was taken in a run and what it says. */
export type RunResults = PointResults | TraceResults

interface ResultsHead {
  /** Captured and typed ones; in a run of traces only typed ones. */
  points: TrialPoint[]
  checks: CheckView[]
}

/** Everything but the points themselves is made from the kept ones. */
export interface PointResults extends ResultsHead {
  takes: 'points'
  result: TrialResult
  /** The same in the unit quantities of the trial; null where it has none. */
  unitResult: TrialResult | null
  /** What the plant file of then predicts; null where it says nothing. */
  theory: TheoryView | null
  unitTheory: TheoryView | null
  findings: RunFindings
}

export interface TraceResults extends ResultsHead {
  takes: 'traces'
  traces: TraceView[]
  /** Of the kept ones. */
  together: TraceTogether
}

/** GET /api/plants/:p/runs/:r */
export type RunReply = PointRunReply | TraceRunReply

export interface PointRunReply extends PointResults {
  run: RunSummary
  /** As it was when the run began. */
  trial: PointTrialView
  /** Only while the run is under way. */
  guidance: PointGuidance | null
}

export interface TraceRunReply extends TraceResults {
  run: RunSummary
  trial: TraceTrialView
  guidance: TraceGuidance | null
}

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

/** POST /api/plants/:p/runs */
export interface RunRequest {
  trial: string
  /** Figure that is typed at each point in place of an estimate. */
  typed?: string
  name: string
  className?: string
  group?: string
  year?: string
}

/** POST /api/plants/:p/runs/:r/points/:n and …/traces/:n */
export interface VerdictRequest {
  verdict: 'kept' | 'rejected'
  reason?: string
}

/** POST /api/plants/:p/runs/:r/notes: what may be edited; the readings may not. */
export interface NotesRequest {
  name?: string
  className?: string
  group?: string
  year?: string
  notes?: string
}
