import type { Reconciliation } from '../../statistics/reconciliation.ts'
import type { HeldRelation, JudgedResidual } from './heldRelation.ts'
import type { ReadingFit, Suspicion } from './suspects.ts'

/** What came out of the last look. */
export interface Finding {
  at: number
  judged: HeldRelation[]
  residuals: JudgedResidual[]
  result: Reconciliation | undefined
  suspicion: Suspicion
  /** Corrections and remaining uncertainties of the readings, the likeliest suspect left out. */
  fit: ReadingFit | undefined
}
