import type { FigureDescription, UtcMs } from './figure.ts'
import type { Findings, SeriesFinding } from './findings.ts'
import type { Caution } from './plant.ts'
import type { TraceRunView, TraceTrialView } from './trace.ts'
import type { TypedMeans } from './typed.ts'

export type { ManualPointRequest, SimpleReading, TypedMeans } from './typed.ts'

/** Guided tests: what they ask for, how a run of one stands, and what its points say. Shared by server and browser. */

/** A trial as it can, or cannot, be done at one plant. */
export interface TrialView {
  id: string
  name: string
  /** What one learns from it. */
  aim: string
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
  /** Every figure that a point stores. */
  figures: FigureDescription[]
  needs: { figure: string; name: string; isThere: boolean }[]
  /** Nothing measures these here; a run may be begun in which one of them is typed at each point. */
  typeable?: { figure: string; name: string }[]
  /** Read from a simple instrument and typed at each point; absent or empty where everything is measured. */
  typed?: { figure: string; name: string; means: TypedMeans[] }[]
  /** Why it cannot be done here, one sentence each; empty where it can. */
  lacking: string[]
  cautions: Caution[]
  /** Steps in words. */
  method: string[]
  /** What a sound result looks like. */
  checks: string[]
  /** The curve that is laid through the points, in words or as a formula. */
  fit: string
  /** Only in trials that record traces instead of steady points. */
  trace?: TraceTrialView
}

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
  kept: number
  rejected: number
  /** Kept traces; only in runs that record them. */
  traces?: number
}

/** GET /api/plants/:p/trials */
export interface TrialsReply {
  trials: TrialView[]
  /** Newest first, at most 200. */
  runs: RunSummary[]
  /** The run that is under way. */
  active: number | null
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

/** GET /api/plants/:p/runs/:r */
export interface RunReply {
  run: RunSummary
  /** As it was when the run began. */
  trial: TrialView
  points: TrialPoint[]
  result: TrialResult
  /** The same in the unit quantities of the trial; null where it has none. */
  unitResult: TrialResult | null
  /** What the plant file of then predicts; null where it says nothing. */
  theory: TheoryView | null
  unitTheory: TheoryView | null
  findings: RunFindings
  /** Only while the run is under way. */
  guidance: Guidance | null
  /** Only in runs of trials that record traces. */
  trace?: TraceRunView
}

/** Lines that the plant file predicts, in the units of abscissa and ordinate: one for each setting of the run. */
export interface TheoryView {
  /** Where it stands in the plant file, e.g. "turbine.efficiencyCurve". */
  from: string
  lines: { x: number[]; y: number[] }[]
}

/** One figure of a point: a mean over a steady window, or a number that somebody read. */
export interface PointFigure {
  id: string
  /** In the figure's SI unit. */
  mean: number
  /** Standard deviation of the readings. */
  deviation: number
  /** Number of independent readings that the window was worth. */
  effectiveCount: number
  /** Standard uncertainty of the mean from scatter. */
  typeA: number
  /** Standard uncertainty from the instruments' accuracy; averaging does not reduce it. */
  typeB: number
  /** Half-width of the 95 % interval. */
  u95: number
  /** Signed part of each instrument in type B, by instrument id. */
  contributions: Record<string, number>
}

export interface TrialPoint {
  number: number
  /** End of the window, or time of the entry. */
  at: UtcMs
  /** Start of the window. */
  from: UtcMs
  samples: number
  /** combined: measured but for one value, which somebody typed. */
  origin: 'automatic' | 'manual' | 'combined'
  /** Who entered it; for captured points who runs the trial. */
  by: string
  /** From the switches, e.g. "jets 1, 2 · loads 2". */
  setting: string
  /** Number of the point that it repeats. */
  repeatOf: number | null
  figures: PointFigure[]
  /** Remarks on the quality of what was averaged. */
  remarks: string[]
  verdict: 'kept' | 'rejected'
  /** Why it was rejected. */
  reason: string
}

/** waiting: no values · off: a held quantity is off its target · settling · captured: this state is stored ·
 * duplicate: an earlier point has this state · storing: the disk refused the point, it is tried again · typing: steady, and a value is to be typed. */
export type GuidanceState = 'waiting' | 'off' | 'settling' | 'captured' | 'duplicate' | 'storing' | 'typing'

export interface Guidance {
  at: UtcMs
  state: GuidanceState
  /** In words, e.g. "Discharge is still moving." */
  sentence: string
  held: HeldView[]
  steady: SteadyView[]
  /** How long everything has been steady, and how long it has to be. */
  steadySeconds: number
  windowSeconds: number
  setting: string
  /** Point that holds, or repeats, the present state. */
  point: number | null
  abscissa: number | null
  ordinate: number | null
  coverage: Coverage
}

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

export type RunFindings = Findings<TrialResult>
export type SeriesResult = SeriesFinding<TrialResult>

/** What the kept points say together. */
export type TrialResult = { isFitted: false; lacking: string } | FittedCurve

export interface FittedCurve {
  isFitted: true
  /** e.g. "E² = (U + I·R)² + (I·ω·L)²". */
  formula: string
  parameters: FittedParameter[]
  points: number
  /** Scatter of the points about the curve, in the unit of the ordinate. */
  residualDeviation: number
  degreesOfFreedom: number
  /** Columns of equal length: the curve and its 95 % band. */
  curve: { x: number[]; y: number[]; low: number[]; high: number[] }
  best: BestPoint | null
  /** Measured less fitted ordinate at each point, at the setting that the point had. */
  residuals: { point: number; value: number }[]
  /** Numbers of points far from the curve, compared with the others. */
  doubtful: number[]
}

export interface FittedParameter {
  symbol: string
  name: string
  unit: string
  viewUnit: string
  value: number
  typeA: number
  typeB: number
  /** Ends of the 95 % interval. */
  low: number
  high: number
}

export interface BestPoint {
  x: number
  /** 95 % interval, within the range of the points. */
  xLow: number
  xHigh: number
  y: number
  yLow: number
  yHigh: number
  /** The maximum lies at an end of the range: the true one may be beyond. */
  isAtEnd: boolean
  /** The interval was cut at an end of the range: the points do not tell how far it reaches beyond. */
  isOpen: boolean
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

/** POST /api/plants/:p/runs/:r/points/:n */
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
