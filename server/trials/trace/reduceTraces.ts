import type { TraceResult, TraceTogether } from '../../wire/trace.ts'
import { seriesOf } from './readings.ts'
import { reductions } from './reductions/index.ts'
import { lacking, type Reduced, type TypedPoint } from './reductions/reduction.ts'
import type { TracePlan } from './tracePlan.ts'

/** What goes to the thread: plain values. */
export interface ReduceRequest {
  plan: TracePlan
  typed: TypedPoint[]
  traces: {
    number: number
    triggeredAt: number
    endedAt: number | null
    isKept: boolean
    /** Pieces as stored. */
    raw: string[]
  }[]
}

export interface ReducedRun {
  /** By number of the trace. */
  results: Record<number, TraceResult>
  together: TraceTogether
}

export function reduceTraces({ plan, typed, traces }: ReduceRequest): ReducedRun {
  const reduction = reductions.get(plan.reduction)
  if (!reduction) throw new RangeError(`no reduction "${plan.reduction}"`)
  const context = { plan, typed }
  const results: Record<number, TraceResult> = {}
  const kept: Reduced[] = []
  for (const { number, triggeredAt, endedAt, isKept, raw } of traces) {
    const result =
      raw.length === 0
        ? lacking('Nothing was recorded.')
        : reduction.one({ number, triggeredAt, endedAt, series: seriesOf(raw) }, context)
    results[number] = result
    if (isKept && result.isReduced) kept.push(result)
  }
  return { results, together: reduction.together(kept, context) }
}
