/** What a run says besides its one curve; R is what a curve through points says (`TrialResult`). */
export interface Findings<R> {
  /** A curve for each way of doing it; empty where the trial has one way. */
  series: SeriesFinding<R>[]
  /** The first way against the second. */
  comparison: Comparison | null
  /** Further curves through the same points, e.g. with a free exponent. */
  further: { name: string; result: R }[]
  balance: BalanceTable | null
  checks: CheckView[]
}

/** One way of doing a trial; a point belongs to it when every figure lies in its range. */
export interface SeriesRule {
  id: string
  name: string
  /** Ends in SI; null: open. */
  where: { figure: string; from: number | null; to: number | null }[]
}

export interface SeriesFinding<R> {
  id: string
  name: string
  /** Numbers of its points, the rejected ones too. */
  points: number[]
  result: R
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

/** A sentence on what a sound result looks like, and what the points say to it. */
export interface CheckView {
  text: string
  /** byEye: no rule can tell; a person looks. */
  state: 'holds' | 'fails' | 'unknown' | 'byEye'
  /** With the numbers of this run; "" by eye. */
  finding: string
}
