import { type ReconciliationInput, reconcile } from '../../statistics/reconciliation.ts'

/** In standard uncertainties of each reading's own class. */
export interface ReadingFit {
  corrections: number[]
  remaining: number[]
}

/** What is suspected says nothing: its standard uncertainty is taken as this many times its own. */
const UNTOLD = 1000
/** A set of its own. */
const ALONE = -1

/**
 * The readings that fit all relations best. A gross error would be smeared over its neighbours, so the likeliest
 * suspect is left out: its value then follows from the others alone.
 *
 * @param suspect Index among the measurements, then among the relations; undefined when nobody is suspected.
 */
export function fitReadings(input: ReconciliationInput, suspect: number | undefined): ReadingFit | undefined {
  const { contributions, ownVariances } = input
  const sets = input.sets?.map((set, j) => (j === suspect ? ALONE : set))
  const measurements = contributions[0]?.length ?? 0
  const weight = (j: number) => (j === suspect ? UNTOLD : 1)
  const result = reconcile({
    ...input,
    ...(sets ? { sets } : {}),
    contributions: contributions.map((row) => Float64Array.from(row, (part, j) => part * weight(j))),
    ownVariances: ownVariances.map((variance, i) => variance * weight(measurements + i) ** 2),
  })
  return (
    result && {
      corrections: result.corrections.map((one, j) => one * weight(j)),
      remaining: result.remaining.map((one, j) => one * weight(j)),
    }
  )
}
