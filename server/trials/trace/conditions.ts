import { nodeOf } from '../../derive/plan.ts'
import type { FigurePlant } from '../../mirror/shownPlant.ts'
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
