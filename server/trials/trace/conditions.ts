import { nodeOf } from '../../derive/plan.ts'
import type { FigurePlant } from '../../mirror/shownPlant.ts'
import type { Plant } from '../../plant/plant.ts'
import type { TraceCondition } from '../../wire/trace.ts'
import type { Condition } from '../trial.ts'

/** Figures that a condition is about: one figure, or every member of a family. */
export function membersOf(figure: string, ids: Iterable<string>): string[] {
  return [...ids].filter((id) => id === figure || id.split('.')[0] === figure)
}

export function isWithin({ low, high }: Pick<Condition, 'low' | 'high'>, value: number): boolean {
  return value >= (low ?? Number.NEGATIVE_INFINITY) && value <= (high ?? Number.POSITIVE_INFINITY)
}

/** How the conditions stand now; one whose value is not known does not hold. */
export function conditionsNow(conditions: readonly Condition[], live: FigurePlant): TraceCondition[] {
  const { plan, evaluator } = live
  return conditions.map((condition) => {
    const { label, figure, words, advice } = condition
    const against = membersOf(figure, plan.indexOf.keys()).flatMap((id) => {
      const { index, description } = nodeOf(plan, id)!
      const { value, quality } = evaluator.view(index)
      if (value !== null && quality !== 'bad' && isWithin(condition, value)) return []
      const isKnown = value !== null && quality !== 'bad'
      const { name } = description
      return [{ figure: id, name, value: isKnown ? value : null, words: isKnown ? words : 'is not known' }]
    })
    return { label, isMet: against.length === 0, against, advice }
  })
}

/** "Jet 2 is open: shut it." for the first condition that does not hold. */
export function sentenceOf(conditions: readonly TraceCondition[]): string | undefined {
  const open = conditions.find((one) => !one.isMet)
  if (!open) return undefined
  const [first] = open.against
  return `${first?.name} ${first?.words}: ${open.advice}.`
}

/** Whether the plant measures a quantity, or any member of its family. */
export function hasQuantity(plant: Plant, quantity: string): boolean {
  return plant.instruments.some((one) => one.quantity === quantity || one.quantity.split('.')[0] === quantity)
}

/** A share of these two is "shut" and "off": a position card and a meter do not read nothing. */
const SHUT = 0.02
const OFF = 0.02

/** No water: jets, spears and guide vanes shut, as far as the plant reports them. */
export function waterOff(plant: Plant): Condition[] {
  const rows: [figure: string, label: string, high: number, advice: string][] = [
    ['jetOpen', 'Jets shut', 0.5, 'shut it'],
    ['needleStroke', 'Spears shut', SHUT, 'shut it slowly'],
    ['guideVaneOpening', 'Guide vanes shut', SHUT, 'shut them slowly'],
  ]
  return rows
    .filter(([figure]) => hasQuantity(plant, figure))
    .map(([figure, label, high, advice]) => ({ label, figure, high, words: 'is open', advice }))
}

/** Nothing is taken from the generator. */
export function loadOff(plant: Plant): Condition[] {
  const rated = plant.constants.get('generator.ratedCurrent')
  if (rated === undefined || !hasQuantity(plant, 'phaseCurrent')) return []
  const advice = 'take the load off the generator'
  return [{ label: 'No load', figure: 'phaseCurrent', high: OFF * rated, words: 'is on', advice }]
}

/** No protection has tripped, where the plant reports it. */
export function nothingTripped(plant: Plant): Condition[] {
  if (!hasQuantity(plant, 'tripped')) return []
  const advice = 'find out why; it is reset at the plant, not here'
  return [{ label: 'Nothing tripped', figure: 'tripped', high: 0.5, words: 'stands', advice }]
}

/** Rated speed of the shaft whose speed is measured [rad/s]. */
export function ratedSpeedOf({ constants }: Plant): number | undefined {
  return constants.get('generator.ratedSpeed') ?? constants.get('turbine.ratedSpeed')
}
