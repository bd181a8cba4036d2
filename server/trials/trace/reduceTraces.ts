import type { TraceResult, TraceTogether } from '../../wire/trace.ts'
import type { TraceMethod } from '../runMethod.ts'
import { seriesOf } from './readings.ts'
import { reductions } from './reductions/index.ts'
import { lacking, type Reduced, type TypedPoint } from './reductions/reduction.ts'

/** What goes to the thread: plain values. */
export interface ReduceRequest {
  method: TraceMethod
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

export function reduceTraces({ method, typed, traces }: ReduceRequest): ReducedRun {
  const reduction = reductions.get(method.reduction)
  if (!reduction) throw new RangeError(`no reduction "${method.reduction}"`)
  const context = { method, typed }
  const results: Record<number, TraceResult> = {}
  const kept: Reduced[] = []
  for (const { number, triggeredAt, endedAt, isKept, raw } of traces) {
    const result =
      raw.length === 0
        ? lacking('Nothing was recorded.')
        : reduction.one({ triggeredAt, endedAt, series: seriesOf(raw) }, context)
    results[number] = result
    if (isKept && result.isReduced) kept.push(result)
  }
  return { results, together: reduction.together(kept, context) }
}
