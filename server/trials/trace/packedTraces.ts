import type { TraceRunView } from '../../wire/trace.ts'

/** Traces of a run for its pack; plain values. */
export interface PackedTraces {
  view: TraceRunView
  /** Pieces as stored, by number of the trace. */
  raw: Record<number, string[]>
}
