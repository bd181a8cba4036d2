import { createEvaluator } from '../../derive/evaluate.ts'
import { nodeOf, planFigures } from '../../derive/plan.ts'
import type { FigurePlant } from '../../mirror/shownPlant.ts'
import { expandTypes } from '../../statistics/uncertainty.ts'
import type { PointFigure } from '../../wire/point.ts'
import { contributionsOf } from '../capture/average.ts'
import { measuredBehind, type TypedValue, typedInstrument, withTyped } from './typedPlan.ts'

export interface Combining {
  live: FigurePlant
  /** Averages of what is measured. */
  averages: readonly PointFigure[]
  typed: readonly TypedValue[]
  /** Figures that the point should have. */
  wanted: readonly string[]
  now: number
}

/**
 * A point of which most is measured and one value is typed: what follows from both is computed from the averages and the
 * typed value by the formulas of the plant. Type A is the scatter of each average carried along the same
 * sensitivities; type B the instruments, and the person's uncertainty as one more of them.
 *
 * Source: JCGM 100:2008, 5.1.2.
 */
export function combineTyped({ live, averages, typed, wanted, now }: Combining): PointFigure[] {
  const plant = withTyped(live.plant, typed)
  const plan = planFigures(plant)
  const evaluator = createEvaluator(plan)
  evaluator.setConnected(true)
  const known = new Map(averages.map((one) => [one.id, one]))
  for (const reading of live.evaluator.readings()) {
    const value = known.get(reading.quantity)?.mean ?? reading.value
    evaluator.take({ ...reading, value, measuredAt: now, receivedAt: now })
  }
  for (const { figure, value } of typed)
    evaluator.take({
      plant: plant.id,
      instrument: typedInstrument(figure),
      quantity: figure,
      value,
      measuredAt: now,
      receivedAt: now,
      quality: 'good',
      reasons: [],
    })
  evaluator.evaluate(now)
  const own = plant.instruments.map(({ quantity }, leaf) => {
    const index = plan.indexOf.get(quantity)
    return index === undefined ? 0 : evaluator.contributions(index)[leaf]!
  })

  const freedom = Math.max(1, Math.min(...averages.map((one) => one.effectiveCount)) - 1)
  const typedLeaves = typed.map(({ figure }) => figure)
  const dependsOn = (index: number, figure: string) =>
    measuredBehind(plan, [plan.nodes[index]!.description.id]).includes(figure)

  function figureOf(id: string): PointFigure[] {
    const node = nodeOf(plan, id)
    if (!node || (node.kind === 'measured' && known.has(id))) return []
    const { index } = node
    const mean = evaluator.value(index)
    if (Number.isNaN(mean)) return []
    const parts = evaluator.contributions(index)
    // An average stays where the typed value has no part in the figure.
    if (known.has(id) && !typedLeaves.some((leaf) => dependsOn(index, leaf))) return []
    // Sensitivity times scatter: the part over the instrument's own uncertainty is the sensitivity.
    const scatters = plant.instruments.map(({ quantity }, leaf) =>
      parts[leaf] === 0 ? 0 : (parts[leaf]! / own[leaf]!) * (known.get(quantity)?.typeA ?? 0),
    )
    const typeA = Math.hypot(...scatters)
    const systematic = evaluator.systematic(index)
    const u95 = expandTypes({ standard: typeA, freedom }, systematic)
    // As if so many independent readings of the figure itself had scattered.
    const count = freedom + 1
    const worth = { deviation: typeA * Math.sqrt(count), effectiveCount: count }
    const typeB = systematic.standard
    return [{ id, mean, ...worth, typeA, typeB, u95, ...contributionsOf({ plan, evaluator }, index) }]
  }
  const made = wanted.flatMap(figureOf)
  const replaced = new Set(made.map((one) => one.id))
  return [...averages.filter((one) => !replaced.has(one.id)), ...made]
}
