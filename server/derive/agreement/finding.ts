import type { Reconciliation } from '../../statistics/reconciliation.ts'
import type { Expression } from '../expression.ts'
import type { DerivedNode } from '../plan.ts'
import type { Relation } from './relation.ts'
import type { ResidualWindow } from './residualWindow.ts'
import type { ReadingFit, Suspicion } from './suspects.ts'

/** A relation that this plant has, with the figure that is its residual. */
export interface HeldRelation {
  relation: Relation
  node: DerivedNode
  measured: Expression
  /** Standard uncertainty of the relation itself, as a share. */
  share: number
  window: ResidualWindow
}

/** What came out of the last look. */
export interface Finding {
  at: number
  judged: HeldRelation[]
  /** Mean of each judged residual, and the standard uncertainty of the relation and of the scatter. */
  residuals: { mean: number; own: number }[]
  result: Reconciliation | undefined
  suspicion: Suspicion
  /** Corrections and remaining uncertainties of the readings, the likeliest suspect left out. */
  fit: ReadingFit | undefined
}
