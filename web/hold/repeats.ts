import { groupBy } from '../../server/wire/groupBy.ts'
import type { RecordView } from '../../server/wire/lesson.ts'

/** Own records of one setting, as scatter. */
export interface Repeats {
  setting: string
  /** Wire values in the order of marking. */
  values: number[]
  mean: number
  /** Sample standard deviation; null for fewer than two. */
  deviation: number | null
}

/**
 * Records of like settings, in which one figure is known:  mean x̄ = Σx / n,  s = √(Σ(x − x̄)² / (n − 1)).
 * Those struck out do not count. In the order in which the settings came first.
 *
 * Source: JCGM 100:2008, 4.2.1 and 4.2.2.
 */
export function repeatsOf(records: readonly RecordView[], figure: string): Repeats[] {
  const known = [...records]
    .filter(({ struck }) => struck === null)
    .sort((a, b) => a.number - b.number)
    .flatMap(({ setting, figures }) => {
      const value = figures.find(({ id }) => id === figure)?.value ?? null
      return value === null ? [] : [{ setting, value }]
    })
  return [...groupBy(known, ({ setting }) => setting)].map(([setting, group]) => {
    const values = group.map(({ value }) => value)
    const mean = values.reduce((sum, value) => sum + value, 0) / values.length
    const squares = values.reduce((sum, value) => sum + (value - mean) ** 2, 0)
    const deviation = values.length < 2 ? null : Math.sqrt(squares / (values.length - 1))
    return { setting, values, mean, deviation }
  })
}
