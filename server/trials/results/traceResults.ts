import { figureOf } from '../../wire/amounts.ts'
import type { TrialPoint } from '../../wire/point.ts'
import type { TraceEnding } from '../../wire/trace.ts'
import type { TraceResults } from '../../wire/trial.ts'
import { judgeChecks } from '../checks/check.ts'
import type { TraceMethod } from '../runMethod.ts'
import type { StoredTrace } from '../takeStore.ts'
import type { ReducedRun, ReduceRequest } from '../trace/reduceTraces.ts'
import type { TypedPoint } from '../trace/reductions/reduction.ts'
import type { TraceTrial } from '../trial.ts'

/** What was taken in a run of traces. */
export interface TakenTraces {
  method: TraceMethod
  points: TrialPoint[]
  traces: readonly StoredTrace[]
  /** Pieces of a trace as stored. */
  raw(number: number): string[]
}

/** A long trace is reduced while it is recorded [s]. */
const LONG_SECONDS = 600

/** Those that can be reduced by now. */
export function reducibleOf({ method, traces }: TakenTraces): StoredTrace[] {
  const isLong = method.view.longestSeconds > LONG_SECONDS
  return traces.filter((one) => isLong || one.endedAt !== null)
}

export function reduceRequestOf(taken: TakenTraces): ReduceRequest {
  const { method, points, raw } = taken
  return {
    method,
    typed: points.flatMap((point) => typedOf(point, method)),
    traces: reducibleOf(taken).map(({ number, triggeredAt, endedAt, verdict }) => {
      return { number, triggeredAt, endedAt, isKept: verdict === 'kept', raw: raw(number) }
    }),
  }
}

/** Everything that the traces of a run say. */
export function traceResults(
  { method, points, traces }: TakenTraces,
  { results, together }: ReducedRun,
  checks: TraceTrial['checks'],
): TraceResults {
  return {
    takes: 'traces',
    points,
    traces: traces.map(({ parts: _, ...one }) => {
      return { ...one, endingWords: ENDINGS[one.ending], result: results[one.number] ?? null }
    }),
    together,
    checks: judgeChecks(method.view.checks, checks, together),
  }
}

const ENDINGS: Record<TraceEnding, string> = {
  recording: 'under way',
  complete: 'complete',
  time: 'ended after the longest time',
  stopped: 'ended by hand',
  interrupted: 'cut short: the server was started anew',
  full: 'ended: the most readings were kept',
  notStored: 'the last readings could not be stored',
}

/** A typed point as the reductions know it: main quantity and what is typed. */
function typedOf(point: TrialPoint, { view }: TraceMethod): TypedPoint[] {
  const x = figureOf(point, view.main)
  const y = figureOf(point, view.typedPoint?.figure)
  if (point.verdict !== 'kept' || !x || !y) return []
  return [
    { x: x.mean, y: y.mean, standard: Math.hypot(y.typeB, x.mean === 0 ? 0 : (y.mean / x.mean) * x.typeB) },
  ]
}
