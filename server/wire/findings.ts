import type { AmountText } from './trace.ts'

/** What the points of a run say. Shared by server and browser. */

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

export interface FittedParameter extends AmountText {
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
  /** The interval takes so much of the range that it says more than the place does. */
  isWide: boolean
  /** The interval as it is: one part, or two where the points cannot tell between two tops. */
  parts: [low: number, high: number][]
  /** Where more points would tell; null: as far as the machine goes. Empty where the points have told. */
  add: { from: number | null; to: number | null }[]
}

/** Lines that the plant file predicts, in the units of abscissa and ordinate: one for each setting of the run. */
export interface TheoryView {
  /** Where it stands in the plant file, e.g. "turbine.efficiencyCurve". */
  from: string
  lines: { x: number[]; y: number[] }[]
}

/** What the points of a run say besides its one curve. */
export interface RunFindings {
  /** A curve for each way of doing it; empty where the trial has one way. */
  series: SeriesResult[]
  /** The first way against the second. */
  comparison: Comparison | null
  /** Further curves through the same points, e.g. with a free exponent. */
  further: { name: string; result: TrialResult }[]
  balance: BalanceTable | null
}

/** One way of doing a trial; a point belongs to it when every figure lies in its range. */
export interface SeriesRule {
  id: string
  name: string
  /** Ends in SI; null: open. */
  where: { figure: string; from: number | null; to: number | null }[]
}

export interface SeriesResult {
  id: string
  name: string
  /** Numbers of its points, the rejected ones too. */
  points: number[]
  result: TrialResult
}

/** Difference of two curves at equal abscissa; what an instrument is off by counts on both sides at once. */
export type Comparison = { isPossible: false; lacking: string } | ComparedSeries

export interface ComparedSeries {
  isPossible: true
  first: string
  second: string
  /** Places in the range that both have. */
  rows: ComparedPlace[]
}

export interface ComparedPlace {
  x: number
  first: number
  second: number
  /** First less second, and its 95 % interval. */
  gain: number
  low: number
  high: number
}

/** Power at every stage of the chain at every kept point. */
export interface BalanceTable {
  points: { point: number; setting: string; rows: BalanceRow[] }[]
  /** Stages whose curve the plant file does not have, or whose instruments are missing, with the reason. */
  missing: string[]
}

/** Powers in W; a figure without reading leaves its stage out. */
export interface BalanceRow {
  stage: string
  name: string
  in: Amount
  out: Amount
  loss: Amount
  /** Of what enters the chain. */
  share: number
  /** Loss by the curves of the plant file; null where they say nothing. */
  expected: number | null
  /** Loss measured less expected; null likewise. */
  residual: Amount | null
  state: 'closes' | 'open' | 'notJudged'
}

export interface Amount {
  value: number
  u95: number
}

/** A sentence on what a sound result looks like, by an id of its trial. */
export interface CheckText {
  id: string
  text: string
}

/** What the points or traces of a run say to it. */
export interface CheckView extends CheckText {
  /** byEye: no rule can tell; a person looks. */
  state: 'holds' | 'fails' | 'unknown' | 'byEye'
  /** With the numbers of this run; "" by eye. */
  finding: string
}
