import type { FigureValue, UtcMs } from './figure.ts'

/**
 * Whether a plant's instruments agree with each other.
 * agrees: every relation holds within what is known of it · suspect: one cause, or a few that cannot be told
 * apart, explains what does not fit · notJudged: nothing to compare, or not steady.
 */
export type BalanceVerdict = 'agrees' | 'suspect' | 'notJudged'

/** For the head of a screen. */
export interface BalanceLine {
  verdict: BalanceVerdict
  /** e.g. "Discharge reads about 3.1 % high." */
  sentence: string
}

/** GET /api/plants/:p/balance */
export interface BalanceReply extends BalanceLine {
  at: UtcMs
  /** What would explain the misfit, likeliest first; several when they cannot be told apart. */
  suspects: BalanceSuspect[]
  relations: RelationView[]
  instruments: ReconciledInstrument[]
  /** How far a test has to go before anybody is suspected, in standard deviations. */
  threshold: number
}

export interface BalanceSuspect {
  /** instrument: it reads wrong · relation: what the relation takes for granted does not hold. */
  kind: 'instrument' | 'relation'
  /** Id of the instrument, or of the gap. */
  id: string
  /** e.g. "Discharge", or "the runner or its efficiency curve". */
  name: string
  /** What it would have to be off by, in words, e.g. "reads about 3.1 % high". */
  says: string
}

/** Two ways to one amount. */
export interface RelationView {
  /** Id of the figure that is the gap. */
  id: string
  name: string
  expected: FigureValue
  measured: FigureValue
  /** Mean of the window; u95 has the relation's own uncertainty in it. */
  gap: FigureValue
  /** Gap over its standard uncertainty; null when not judged. */
  deviate: number | null
  unit: string
  viewUnit: string
}

/** The value that fits all relations best. */
export interface ReconciledInstrument {
  instrument: string
  /** Id of its figure. */
  figure: string
  name: string
  measured: FigureValue
  reconciled: FigureValue
  /** Test of the hypothesis that it alone is wrong, in standard deviations. */
  deviate: number
}
