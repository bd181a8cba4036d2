import type { RunFindings, RunSummary, TheoryView, TrialResult } from '../../wire/trial.ts'
import type { RunMethod } from '../runMethod.ts'
import type { StoredPoint } from '../runStore.ts'
import type { PackedTraces } from '../trace/packedTraces.ts'

/** What a pack is made of; plain values, so that it can go to another thread. */
export interface PackedRun {
  summary: RunSummary
  method: RunMethod
  result: TrialResult
  /** Null where the trial has no unit quantities. */
  unitResult: TrialResult | null
  theory: TheoryView | null
  unitTheory: TheoryView | null
  findings: RunFindings
  stored: StoredPoint[]
  /** The plant file of then; null in runs of older versions. */
  plantText: string | null
  /** Only of trials that record traces. */
  traces?: PackedTraces
}
