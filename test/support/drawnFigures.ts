import type { ConstantError } from '../../server/derive/constantUncertainty.ts'
import { instrumentUncertainty } from '../../server/derive/instrumentUncertainty.ts'
import type { Plan } from '../../server/derive/plan.ts'
import { createPropagation, type LeafUncertainty, type Propagation } from '../../server/derive/propagation.ts'
import { createRandom } from '../../server/statistics/bootstrap.ts'
import { createNormal } from './normal.ts'

/** One state of a plant, and what its figures would be with other instruments of the same classes (JCGM 101). */
export interface DrawnFigures {
  /** From the state itself, by the law of propagation. */
  propagation: Propagation
  value(index: number): number
  /** Draws of one figure; those without a value are left out. */
  draws(index: number): number[]
}

/** Noise of every instrument as a share of its limits, as the simulator has it, known from twenty differences. */
const SCATTER_SHARE = 0.08
const FREEDOM = 13

/**
 * @param state SI value of every instrument, by its quantity.
 * @param count Number of draws.
 */
export function drawFigures(plan: Plan, state: ReadonlyMap<string, number>, count: number): DrawnFigures {
  const column = Float64Array.from(plan.column)
  const propagation = createPropagation(plan, column)
  const worths: LeafUncertainty[] = []
  for (const node of plan.nodes) {
    if (node.kind === 'derived') {
      column[node.index] = node.expression.evaluate(column)
      if (Number.isFinite(column[node.index]!)) propagation.propagate(node)
      continue
    }
    if (node.kind === 'accumulated') continue
    const value = state.get(node.instrument.quantity) ?? Number.NaN
    const stated = instrumentUncertainty(node.instrument, value)
    const worth = { ...stated, scatter: SCATTER_SHARE * Math.sqrt(3) * stated.limits, freedom: FREEDOM }
    column[node.index] = value
    worths[node.leaf] = worth
    propagation.setLeaf(node.leaf, worth)
  }
  const middle = Float64Array.from(column)
  const kept = plan.nodes.map(() => new Float64Array(count))
  const draw = drawer(plan)
  for (let i = 0; i < count; i++) {
    draw.next()
    for (const [k, { slot, error }] of plan.doubtful.entries())
      column[slot] = plan.column[slot]! + draw.constant(k, error)
    for (const node of plan.nodes) {
      if (node.kind === 'accumulated') continue
      const { index } = node
      column[index] =
        node.kind === 'measured'
          ? middle[index]! + draw.error(node.leaf, worths[node.leaf]!)
          : node.expression.evaluate(column)
      kept[index]![i] = column[index]!
    }
  }
  return {
    propagation,
    value: (index) => middle[index]!,
    draws: (index) => [...kept[index]!].filter(Number.isFinite),
  }
}

/** Errors of one set of instruments and constants after another; those of one calibration have one place within their limits. */
function drawer(plan: Plan) {
  const random = createRandom(20261127)
  const normal = createNormal(random)
  const rectangular = () => Math.sqrt(3) * (2 * random() - 1)
  const places = new Map<string | number, number>()
  const placeOf = (name: string | number, isRectangular: boolean) => {
    if (!places.has(name)) places.set(name, isRectangular ? rectangular() : normal())
    return places.get(name)!
  }
  return {
    next: () => places.clear(),
    error: (leaf: number, { limits, isRectangular, resolution, scatter }: LeafUncertainty) =>
      limits * placeOf(plan.plant.instruments[leaf]!.accuracy?.calibration ?? leaf, isRectangular) +
      resolution * rectangular() +
      scatter * normal(),
    constant: (k: number, { limits, isRectangular, calibration }: ConstantError) =>
      limits * placeOf(calibration ?? `constant ${k}`, isRectangular),
  }
}
