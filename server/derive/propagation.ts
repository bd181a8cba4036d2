import { coverageFactor95 } from '../statistics/coverageFactor.ts'
import type { Systematic } from '../statistics/uncertainty.ts'
import type { InstrumentUncertainty } from './instrumentUncertainty.ts'
import type { DerivedNode, Plan } from './plan.ts'
import { ALONE, calibrationsOf, type InputReach, type Reach, reachOf } from './reach.ts'

/**
 * Uncertainty along the formulas. Every figure keeps its sensitivity c_j to each instrument and each constant j that it
 * depends on; two inputs fed by one of them are thereby correlated exactly as far as they share it. An instrument has
 * three errors: limits L, rounding R and scatter A (instrumentUncertainty.ts), a constant has limits only
 * (constantUncertainty.ts).
 *
 *   u² = Σ_j c_j²·(u_Lj² + u_Rj² + u_Aj²) + Σ_k e_k²
 *
 * Those that share a calibration k have no u_L of their own: their limits move together and come to e_k.
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
  /** Half-width of the 95 % interval in SI; 0 where no instrument behind it states anything. */
  expanded(index: number): number
  /** What is left of it without scatter. */
  systematic(index: number): Systematic
  /**
   * Sensitivity · type B uncertainty by leaf, with its sign, as if every instrument had a calibration of its own: who
   * looks for one faulty instrument looks at one at a time.
   */
  contributions(index: number): Float64Array
  /** Sensitivity · standard uncertainty of each constant that errs, with its sign, in the order of the plan. */
  constantParts(index: number): Float64Array
  /** Share of the variance that each instrument contributes, by leaf, and behind them each constant. */
  shares(index: number): number[]
}

export interface LeafUncertainty extends InstrumentUncertainty {
  scatter: number
  /** Degrees of freedom of `scatter`. */
  freedom: number
}

export function createPropagation(plan: Plan, column: Float64Array): Propagation {
  const count = plan.plant.instruments.length
  const { calibrationOf, isFlat } = calibrationsOf(plan)
  const reaches = reachOf(plan, isFlat.length)
  const leaves: LeafUncertainty[] = Array.from({ length: count + plan.doubtful.length }, () => NOTHING)
  const combined = new Float64Array(reaches.length)
  /** Part that is not from an instrument's or a constant's errors; independent of everything else. */
  const ownParts = new Float64Array(reaches.length)
  /** Number of the change that last touched a figure, and of the one it was last propagated at. */
  const changedAt = new Float64Array(reaches.length)
  let changes = 0
  /** How far each input of one figure is moved, and where it stood. */
  const steps = new Float64Array(reaches.reduce((most, { inputs }) => Math.max(most, inputs.length), 1))
  const stood = new Float64Array(steps.length)
  const widest = new Float64Array(2)
  for (const [i, { slot, error }] of plan.doubtful.entries())
    setAt(slot, count + i, { ...NOTHING, limits: error.limits, isRectangular: error.isRectangular })

  function setLeaf(leaf: number, uncertainty: LeafUncertainty): void {
    setAt(leaf, leaf, uncertainty)
  }

  function setAt(slot: number, leaf: number, uncertainty: LeafUncertainty): void {
    const reach = reaches[slot]!
    leaves[leaf] = uncertainty
    reach.sensitivities[0] = 1
    if (calibrationOf[leaf] !== ALONE) reach.effects[calibrationOf[leaf]!] = uncertainty.limits
    combined[slot] = Math.sqrt(variance(reach))
    changedAt[slot] = ++changes
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
    reaches[index]!.effects.fill(0)
  }

  function propagate(node: DerivedNode): void {
    const { index } = node
    const reach = reaches[index]!
    const { inputs, sensitivities, effects } = reach
    if (!isOutdated(index, inputs)) return
    sensitivities.fill(0)
    let ownSquares = 0
    const here = node.expression.evaluate(column)
    for (let i = 0; i < inputs.length; i++) {
      const { index: input, places } = inputs[i]!
      const u = combined[input]!
      if (u === 0) continue
      steps.fill(0)
      steps[i] = u
      const slope = change(node, inputs, here) / u
      ownSquares += (slope * ownParts[input]!) ** 2
      const theirs = reaches[input]!.sensitivities
      for (let j = 0; j < places.length; j++) sensitivities[places[j]!]! += slope * theirs[j]!
    }
    // Together: over a corner of the formula the sum of the parts is not what they do at once.
    for (let k = 0; k < effects.length; k++) {
      let isReached = false
      for (let i = 0; i < inputs.length; i++) {
        steps[i] = reaches[inputs[i]!.index]!.effects[k]!
        isReached ||= steps[i] !== 0
      }
      effects[k] = isReached ? change(node, inputs, here) : 0
    }
    ownParts[index] = Math.sqrt(ownSquares)
    combined[index] = Math.sqrt(variance(reach) + ownSquares)
    changedAt[index] = ++changes
  }

  function isOutdated(index: number, inputs: readonly InputReach[]): boolean {
    const last = changedAt[index]!
    if (last === 0) return true
    for (const input of inputs) if (changedAt[input.index]! > last) return true
    return false
  }

  /** Change of a figure, `here` now, when its inputs move by `steps`. */
  function change({ expression }: DerivedNode, inputs: readonly InputReach[], here: number): number {
    for (let i = 0; i < inputs.length; i++) stood[i] = column[inputs[i]!.index]!
    for (let i = 0; i < inputs.length; i++) column[inputs[i]!.index] = stood[i]! + steps[i]!
    const up = expression.evaluate(column) - here
    for (let i = 0; i < inputs.length; i++) column[inputs[i]!.index] = stood[i]! - steps[i]!
    const down = here - expression.evaluate(column)
    for (let i = 0; i < inputs.length; i++) column[inputs[i]!.index] = stood[i]!
    // At the edge of what the formula can give, the side that is left tells the slope.
    if (!Number.isFinite(up)) return Number.isFinite(down) ? down : 0
    if (!Number.isFinite(down)) return up
    return isKinked(down, up) ? steeper(down, up) : (down + up) / 2
  }

  function variance({ leaves: own, sensitivities, effects }: Reach, hasScatter = true): number {
    let sum = 0
    for (let k = 0; k < effects.length; k++) sum += effects[k]! ** 2
    for (let i = 0; i < own.length; i++) {
      const { limits, resolution, scatter } = leaves[own[i]!]!
      const alone = calibrationOf[own[i]!] === ALONE ? limits : 0
      sum += sensitivities[i]! ** 2 * (alone ** 2 + resolution ** 2 + (hasScatter ? scatter ** 2 : 0))
    }
    return sum
  }

  function expanded(index: number): number {
    const u = combined[index]!
    const { leaves: own, sensitivities } = reaches[index]!
    if (u === 0 || !isStated(own)) return 0
    let fourth = 0
    for (let i = 0; i < own.length; i++) {
      const { scatter, freedom } = leaves[own[i]!]!
      fourth += (sensitivities[i]! * scatter) ** 4 / freedom
    }
    meetRectangles(reaches[index]!)
    const freedom = fourth === 0 ? Number.POSITIVE_INFINITY : u ** 4 / fourth
    return u * coverageFactor95(freedom, widest[0]! / u, widest[1]! / u)
  }

  function systematic(index: number): Systematic {
    const reach = reaches[index]!
    meetRectangles(reach)
    return { standard: Math.sqrt(variance(reach, false)), widest: [widest[0]!, widest[1]!] }
  }

  /** Finds the two largest rectangles of a figure. */
  function meetRectangles({ leaves: own, sensitivities, effects }: Reach): void {
    widest.fill(0)
    for (let i = 0; i < own.length; i++) {
      const { limits, isRectangular, resolution } = leaves[own[i]!]!
      const c = Math.abs(sensitivities[i]!)
      if (isRectangular && calibrationOf[own[i]!] === ALONE) meet(c * limits)
      meet(c * resolution)
    }
    for (let k = 0; k < effects.length; k++) if (isFlat[k]) meet(Math.abs(effects[k]!))
  }

  /** Constants alone would make readings of which nothing is stated look sure; a switch has nothing to state. */
  function isStated(own: Int32Array): boolean {
    let isRead = false
    for (let i = 0; i < own.length && own[i]! < count; i++) {
      if (plan.plant.instruments[own[i]!]!.role?.discrete) continue
      isRead = true
      const { limits, resolution, scatter } = leaves[own[i]!]!
      if (limits + resolution + scatter > 0) return true
    }
    return !isRead
  }

  /** Keeps the two largest rectangles. */
  function meet(width: number): void {
    if (width > widest[0]!) {
      widest[1] = widest[0]!
      widest[0] = width
    } else if (width > widest[1]!) widest[1] = width
  }

  function shares(index: number): number[] {
    const total = combined[index]! ** 2
    const all = Array.from({ length: leaves.length }, () => 0)
    if (total === 0) return all
    const { leaves: own, sensitivities, effects } = reaches[index]!
    const parts = Float64Array.from(own, (leaf, i) => (sensitivities[i]! * leaves[leaf]!.limits) ** 2)
    own.forEach((leaf, i) => {
      const { resolution, scatter } = leaves[leaf]!
      const k = calibrationOf[leaf]!
      const together =
        k === ALONE ? parts[i]! : effects[k]! ** 2 * shareOf(parts, i, (j) => calibrationOf[own[j]!] === k)
      all[leaf] = (together + sensitivities[i]! ** 2 * (resolution ** 2 + scatter ** 2)) / total
    })
    return all
  }

  function contributions(index: number): Float64Array {
    return partsOf(index).subarray(0, count)
  }

  function constantParts(index: number): Float64Array {
    return partsOf(index).subarray(count)
  }

  function standard(index: number): number {
    return combined[index]!
  }

  function partsOf(index: number): Float64Array {
    const all = new Float64Array(leaves.length)
    const { leaves: own, sensitivities } = reaches[index]!
    own.forEach((leaf, i) => {
      const { limits, resolution } = leaves[leaf]!
      all[leaf] = sensitivities[i]! * Math.hypot(limits, resolution)
    })
    return all
  }

  const sources = { systematic, shares, contributions, constantParts }
  return { setLeaf, setOwn, clear, propagate, standard, expanded, ...sources }
}

/** Part `at` of the sum of those parts that count. */
function shareOf(parts: Float64Array, at: number, counts: (index: number) => boolean): number {
  const sum = parts.reduce((total, part, i) => (counts(i) ? total + part : total), 0)
  return sum === 0 ? 0 : parts[at]! / sum
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
