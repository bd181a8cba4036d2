import { coverageFactor95 } from '../statistics/coverageFactor.ts'
import type { InstrumentUncertainty } from './instrumentUncertainty.ts'
import type { DerivedNode, Plan } from './plan.ts'

/**
 * Uncertainty along the formulas. Every figure keeps its sensitivity c_j to each instrument j that it depends on; two
 * inputs fed by one instrument are thereby correlated exactly as far as they share it. An instrument has three errors:
 * limits L, rounding R and scatter A (instrumentUncertainty.ts).
 *
 *   u² = Σ_j c_j²·(u_Lj² + u_Rj² + u_Aj²)
 *
 * First order; partial derivatives by differences of ± one standard uncertainty (JCGM 100 5.1.3 note 2). The 95 %
 * interval takes the two largest rectangles as what they are, the rest as normal, and ν_eff by Welch–Satterthwaite
 * with infinite degrees of freedom for type B.
 */
export interface Propagation {
  /** States what one reading is worth; `leaf` is the instrument's position and its figure's index. */
  setLeaf(leaf: number, uncertainty: LeafUncertainty): void
  /** States the uncertainty of a figure that has one of its own, e.g. the standard error of a slope [SI]. */
  setOwn(index: number, uncertainty: number): void
  clear(index: number): void
  /** Inputs first. Does nothing where no input has changed since the last time. */
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

export interface LeafUncertainty extends InstrumentUncertainty {
  scatter: number
  /** Degrees of freedom of `scatter`. */
  freedom: number
}

/** What one figure depends on. */
interface Reach {
  /** Positions of the instruments. */
  leaves: Int32Array
  /** ∂figure/∂instrument, in the order of `leaves`; all 0 while the figure is blank. */
  sensitivities: Float64Array
  inputs: InputReach[]
}

interface InputReach {
  index: number
  /** Where the input's leaves stand among those of the figure. */
  places: Int32Array
}

export function createPropagation(plan: Plan, column: Float64Array): Propagation {
  const count = plan.plant.instruments.length
  const reaches = reachOf(plan)
  const leaves: LeafUncertainty[] = Array.from({ length: count }, () => NOTHING)
  const combined = new Float64Array(plan.nodes.length)
  /** Part that is not from an instrument's errors; independent of everything else. */
  const ownParts = new Float64Array(plan.nodes.length)
  /** Number of the change that last touched a figure, and of the one it was last propagated at. */
  const changedAt = new Float64Array(plan.nodes.length)
  let changes = 0

  function setLeaf(leaf: number, uncertainty: LeafUncertainty): void {
    leaves[leaf] = uncertainty
    reaches[leaf]!.sensitivities[0] = 1
    combined[leaf] = Math.sqrt(variance(reaches[leaf]!))
    changedAt[leaf] = ++changes
  }

  function setOwn(index: number, uncertainty: number): void {
    ownParts[index] = uncertainty
    combined[index] = uncertainty
    changedAt[index] = ++changes
  }

  function clear(index: number): void {
    combined[index] = 0
    ownParts[index] = 0
    changedAt[index] = 0
    reaches[index]!.sensitivities.fill(0)
  }

  function propagate(node: DerivedNode): void {
    const { index } = node
    const { inputs, sensitivities } = reaches[index]!
    if (!isOutdated(index, inputs)) return
    sensitivities.fill(0)
    let ownSquares = 0
    const here = node.expression.evaluate(column)
    for (const { index: input, places } of inputs) {
      const u = combined[input]!
      if (u === 0) continue
      const own = slope(node, { input, u, here })
      ownSquares += (own * ownParts[input]!) ** 2
      const theirs = reaches[input]!.sensitivities
      for (let i = 0; i < places.length; i++) sensitivities[places[i]!]! += own * theirs[i]!
    }
    ownParts[index] = Math.sqrt(ownSquares)
    combined[index] = Math.sqrt(variance(reaches[index]!) + ownSquares)
    changedAt[index] = ++changes
  }

  function isOutdated(index: number, inputs: readonly InputReach[]): boolean {
    const last = changedAt[index]!
    if (last === 0) return true
    for (const input of inputs) if (changedAt[input.index]! > last) return true
    return false
  }

  /** ∂f/∂x over ± u; `here` is f(x). */
  function slope(node: DerivedNode, { input, u, here }: { input: number; u: number; here: number }): number {
    const { evaluate } = node.expression
    const middle = column[input]!
    column[input] = middle + u
    const right = (evaluate(column) - here) / u
    column[input] = middle - u
    const left = (here - evaluate(column)) / u
    column[input] = middle
    // At the edge of what the formula can give, the side that is left tells the slope.
    if (!Number.isFinite(right)) return Number.isFinite(left) ? left : 0
    if (!Number.isFinite(left)) return right
    return isKinked(left, right) ? steeper(left, right) : (left + right) / 2
  }

  function variance({ leaves: own, sensitivities }: Reach): number {
    let sum = 0
    for (let i = 0; i < own.length; i++) {
      const { limits, resolution, scatter } = leaves[own[i]!]!
      sum += sensitivities[i]! ** 2 * (limits ** 2 + resolution ** 2 + scatter ** 2)
    }
    return sum
  }

  function expanded(index: number): number {
    const u = combined[index]!
    if (u === 0) return 0
    const { leaves: own, sensitivities } = reaches[index]!
    let fourth = 0
    let first = 0
    let second = 0
    for (let i = 0; i < own.length; i++) {
      const { limits, isRectangular, resolution, scatter, freedom } = leaves[own[i]!]!
      const c = Math.abs(sensitivities[i]!)
      const larger = isRectangular ? c * Math.max(limits, resolution) : c * resolution
      const smaller = isRectangular ? c * Math.min(limits, resolution) : 0
      second = Math.max(second, smaller, Math.min(first, larger))
      first = Math.max(first, larger)
      fourth += (c * scatter) ** 4 / freedom
    }
    return (
      u * coverageFactor95(fourth === 0 ? Number.POSITIVE_INFINITY : u ** 4 / fourth, first / u, second / u)
    )
  }

  function shares(index: number): number[] {
    const total = combined[index]! ** 2
    const all = Array.from({ length: count }, () => 0)
    if (total === 0) return all
    const { leaves: own, sensitivities } = reaches[index]!
    own.forEach((leaf, i) => {
      const { limits, resolution, scatter } = leaves[leaf]!
      all[leaf] = (sensitivities[i]! ** 2 * (limits ** 2 + resolution ** 2 + scatter ** 2)) / total
    })
    return all
  }

  function contributions(index: number): Float64Array {
    const all = new Float64Array(count)
    const { leaves: own, sensitivities } = reaches[index]!
    own.forEach((leaf, i) => {
      const { limits, resolution } = leaves[leaf]!
      all[leaf] = sensitivities[i]! * Math.hypot(limits, resolution)
    })
    return all
  }

  return {
    setLeaf,
    setOwn,
    clear,
    propagate,
    expanded,
    shares,
    contributions,
    standard: (index) => combined[index]!,
  }
}

const NOTHING: LeafUncertainty = { limits: 0, isRectangular: true, resolution: 0, scatter: 0, freedom: 1 }

/**
 * A corner within ± u, such as max or abs have: the mean of both sides would be nearly 0 at the very place where any
 * change matters, e.g. the unbalance of balanced phases.
 */
function isKinked(left: number, right: number): boolean {
  return left * right < 0 || Math.abs(left) < 0.5 * Math.abs(right) || Math.abs(right) < 0.5 * Math.abs(left)
}

function steeper(left: number, right: number): number {
  return Math.abs(left) > Math.abs(right) ? left : right
}

/** Inputs come before their use, so that one pass finds what each figure depends on. */
function reachOf(plan: Plan): Reach[] {
  const reaches: Reach[] = []
  for (const node of plan.nodes) {
    const inputs = node.kind === 'derived' ? node.inputs : []
    const found = new Set(
      node.kind === 'measured' ? [node.leaf] : inputs.flatMap((i) => [...reaches[i]!.leaves]),
    )
    const leaves = Int32Array.from([...found].sort((a, b) => a - b))
    reaches.push({
      leaves,
      sensitivities: new Float64Array(leaves.length),
      inputs: inputs.map((index) => ({
        index,
        places: reaches[index]!.leaves.map((leaf) => leaves.indexOf(leaf)),
      })),
    })
  }
  return reaches
}
