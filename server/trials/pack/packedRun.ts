import type { RunSummary, TrialResult } from '../../wire/trial.ts'
import type { RunMethod } from '../runMethod.ts'
import type { StoredPoint } from '../runStore.ts'
import type { PackedTraces } from '../trace/traceDesk.ts'

/** What a pack is made of; plain values, so that it can go to another thread. */
export interface PackedRun {
  summary: RunSummary
  method: RunMethod
  result: TrialResult
  stored: StoredPoint[]
  /** Only of trials that record traces. */
  traces?: PackedTraces
}
