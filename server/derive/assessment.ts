import type { DerivedNode } from './plan.ts'

/** Why a figure is not good. */
export interface Reason {
  /** Index of the figure that the reason is about. */
  of: number
  text: string
}

/** What is known of a figure at one moment. */
export interface Assessment {
  /** NaN when it cannot be given. */
  value: number
  grade: number
  why: readonly Reason[]
}

export const [GOOD, UNCERTAIN, BAD] = [0, 1, 2] as const
export const NO_REASONS: readonly Reason[] = []
const OUTSIDE_CURVE = 'outside its curve in the plant file'

export function blank(grade: number, why: readonly Reason[]): Assessment {
  return { value: Number.NaN, grade, why }
}

/** Of a formula that gives none. */
export function noNumber({ index, way }: DerivedNode): Assessment {
  if (way.window) return blank(UNCERTAIN, [{ of: index, text: 'too few readings yet' }])
  return blank(BAD, [{ of: index, text: way.curves ? OUTSIDE_CURVE : 'its formula gives no finite number' }])
}
