import { coverageFactor95 } from '../statistics/coverageFactor.ts'
import type { DerivedNode, Plan } from './plan.ts'

/**
 * Uncertainty along the formulas. Every figure keeps its sensitivity to each instrument, separately for what
 * the accuracy class allows (type B) and for the scatter of the readings (type A). Two inputs fed by one
 * instrument are thereby correlated exactly as far as they share it.
 *
 * u² = Σ_j (c_j·u_Bj)² + (c_j·u_Aj)², independent instruments j; ν_eff by Welch–Satterthwaite with infinite
 * degrees of freedom for type B. First order; partial derivatives by differences of ± one standard uncertainty
 * (JCGM 100 5.1.3 note 2).
 */
export interface Propagation {
  setLeaf(index: number, leaf: number, share: { typeB: number; typeA: number; freedom: number }): void
  clear(index: number): void
  propagate(node: DerivedNode): void
  /** Standard uncertainty in SI; 0 when no input states any. */
  standard(index: number): number
  /** Half-width of the 95 % interval in SI. */
  expanded(index: number): number
  /** Sensitivity · type B uncertainty by leaf, with its sign. */
  contributions(index: number): Float64Array
  /** Share of the variance that each instrument contributes, by leaf. */
  shares(index: number): number[]
}

export function createPropagation(plan: Plan, column: Float64Array): Propagation {
  const leaves = plan.plant.instruments.length
  const typeB = plan.nodes.map(() => new Float64Array(leaves))
  const typeA = plan.nodes.map(() => new Float64Array(leaves))
  const freedom = new Float64Array(leaves).fill(1)
  const combined = new Float64Array(plan.nodes.length)

  function setLeaf(
    index: number,
    leaf: number,
    share: { typeB: number; typeA: number; freedom: number },
  ): void {
    typeB[index]![leaf] = share.typeB
    typeA[index]![leaf] = share.typeA
    freedom[leaf] = share.freedom
    combined[index] = Math.hypot(share.typeB, share.typeA)
  }

  function clear(index: number): void {
    if (combined[index] === 0) return
    typeB[index]!.fill(0)
    typeA[index]!.fill(0)
    combined[index] = 0
  }

  function propagate({ index, inputs, expression }: DerivedNode): void {
    const b = typeB[index]!
    const a = typeA[index]!
    for (const input of inputs) {
      const u = combined[input]!
      if (u === 0) continue
      const sensitivity = slope(expression.evaluate, input, u)
      addScaled(b, typeB[input]!, sensitivity)
      addScaled(a, typeA[input]!, sensitivity)
    }
    let sum = 0
    for (let leaf = 0; leaf < leaves; leaf++) sum += b[leaf]! ** 2 + a[leaf]! ** 2
    combined[index] = Math.sqrt(sum)
  }

  function slope(evaluate: (column: Float64Array) => number, input: number, u: number): number {
    const middle = column[input]!
    column[input] = middle + u
    const above = evaluate(column)
    column[input] = middle - u
    const below = evaluate(column)
    column[input] = middle
    if (Number.isFinite(above) && Number.isFinite(below)) return (above - below) / (2 * u)
    // At the edge of what the formula can give, the side that is left tells the slope.
    const here = evaluate(column)
    if (Number.isFinite(above)) return (above - here) / u
    return Number.isFinite(below) ? (here - below) / u : 0
  }

  function expanded(index: number): number {
    const u = combined[index]!
    if (u === 0) return 0
    let fourth = 0
    const a = typeA[index]!
    for (let leaf = 0; leaf < leaves; leaf++) if (a[leaf] !== 0) fourth += a[leaf]! ** 4 / freedom[leaf]!
    return u * coverageFactor95(fourth === 0 ? Number.POSITIVE_INFINITY : u ** 4 / fourth)
  }

  function shares(index: number): number[] {
    const total = combined[index]! ** 2
    return Array.from({ length: leaves }, (_, leaf) =>
      total === 0 ? 0 : (typeB[index]![leaf]! ** 2 + typeA[index]![leaf]! ** 2) / total,
    )
  }

  return {
    setLeaf,
    clear,
    propagate,
    expanded,
    shares,
    contributions: (index) => typeB[index]!,
    standard: (index) => combined[index]!,
  }
}

function addScaled(target: Float64Array, source: Float64Array, factor: number): void {
  for (let i = 0; i < target.length; i++) target[i]! += factor * source[i]!
}
