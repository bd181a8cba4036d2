import type { PointResults, RunSummary, TraceResults } from '../../wire/trial.ts'
import type { PointMethod, TraceMethod } from '../runMethod.ts'

/** A run with how it was done and what it says; plain values. */
export type FoundRun = PointsFound | TracesFound

export interface PointsFound extends PointResults {
  summary: RunSummary
  method: PointMethod
}

export interface TracesFound extends TraceResults {
  summary: RunSummary
  method: TraceMethod
}
