import type { Expression } from '../expression.ts'
import type { DerivedNode } from '../plan.ts'
import type { Relation } from './relation.ts'
import type { ResidualWindow } from './residualWindow.ts'

/** A relation that this plant has, with the figure that is its residual. */
export interface HeldRelation {
  relation: Relation
  node: DerivedNode
  measured: Expression
  /** Standard uncertainty of the relation itself, as a share. */
  share: number
  window: ResidualWindow
}

export interface JudgedResidual {
  /** Of the window. */
  mean: number
  /** Standard deviation of that mean. */
  scatter: number
  /** Standard uncertainty of the relation and of the scatter together. */
  own: number
}
