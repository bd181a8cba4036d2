import type { RunFindings, RunSummary, TrialResult } from '../../wire/trial.ts'
import type { RunMethod } from '../runMethod.ts'
import type { StoredPoint } from '../runStore.ts'

/** What a pack is made of; plain values, so that it can go to another thread. */
export interface PackedRun {
  summary: RunSummary
  method: RunMethod
  result: TrialResult
  findings: RunFindings
  stored: StoredPoint[]
}
