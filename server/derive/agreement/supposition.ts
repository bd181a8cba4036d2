import type { DerivedNode, Plan } from '../plan.ts'
import type { HeldRelation } from './heldRelation.ts'

/** Other readings: position of the instrument and what it would read [SI]. */
export type Readings = readonly (readonly [leaf: number, value: number])[]

export interface Suppositions {
  /**
   * Residuals [unit of each relation]; NaN where a formula gives none, e.g. outside a curve.
   *
   * @param column Slots as they stand; the same again afterwards.
   */
  residuals(column: Float64Array, readings: Readings, judged: readonly HeldRelation[]): number[]
  /** The measured side of each. */
  measured(column: Float64Array, readings: Readings, judged: readonly HeldRelation[]): number[]
  /** Whether an instrument has a part in any of the relations. */
  reaches(leaf: number, judged: readonly HeldRelation[]): boolean
}

/**
 * Computes relations over again with other readings, by the formulas that the figures have, so that large errors are
 * judged by what they do and not by a straight line through the present values.
 *
 * Limits: figures that remember or look back over time stay as they are. Whether a formula is valid is not asked.
 */
export function createSuppositions(plan: Plan, held: readonly HeldRelation[]): Suppositions {
  const nodes = needed(plan, held)
  const paths = new Map<string, readonly DerivedNode[]>()

  /** What has to be computed over again, inputs first. */
  function pathOf(leaves: readonly number[]): readonly DerivedNode[] {
    const key = leaves.join()
    const known = paths.get(key)
    if (known) return known
    const touched = new Set(leaves)
    const path = nodes.filter(({ index, inputs }) => {
      const isTouched = inputs.some((input) => touched.has(input))
      if (isTouched) touched.add(index)
      return isTouched
    })
    paths.set(key, path)
    return path
  }

  function under<T>(column: Float64Array, readings: Readings, take: () => T): T {
    const path = pathOf(readings.map(([leaf]) => leaf))
    const leavesStood = readings.map(([leaf]) => column[leaf]!)
    const stood = path.map(({ index }) => column[index]!)
    for (const [leaf, value] of readings) column[leaf] = value
    for (const { index, expression } of path) column[index] = expression.evaluate(column)
    const taken = take()
    for (const [i, [leaf]] of readings.entries()) column[leaf] = leavesStood[i]!
    for (const [i, { index }] of path.entries()) column[index] = stood[i]!
    return taken
  }

  return {
    residuals: (column, readings, judged) =>
      under(column, readings, () => judged.map(({ node }) => column[node.index]!)),
    measured: (column, readings, judged) =>
      under(column, readings, () => judged.map(({ measured }) => measured.evaluate(column))),
    reaches: (leaf, judged) =>
      pathOf([leaf]).some(({ index }) => judged.some(({ node }) => node.index === index)),
  }
}

/** Figures that the relations are made of, in the order of the plan. */
function needed(plan: Plan, held: readonly HeldRelation[]): DerivedNode[] {
  const wanted = new Set(held.map(({ node }) => node.index))
  const found: DerivedNode[] = []
  for (const node of [...plan.nodes].reverse()) {
    if (!wanted.has(node.index) || node.kind !== 'derived' || node.way.window) continue
    found.push(node)
    for (const input of node.inputs) wanted.add(input)
  }
  return found.reverse()
}
