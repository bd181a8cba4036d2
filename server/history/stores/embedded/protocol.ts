import type { Envelope } from '../../envelope.ts'
import type { Grid } from '../../grid.ts'
import type { LaneAddress } from '../../lane/address.ts'
import type { RangeQuery } from '../../store.ts'
import type { DatabaseLimits } from './database.ts'

/** How long each tier is kept [days]; `Infinity` keeps it for ever. raw ≤ minute ≤ hour. */
export interface RetentionDays {
  raw: number
  minute: number
  hour: number
}

export interface EngineOptions {
  folder: string
  /** Where it answers questions. */
  lane: LaneAddress
  limits: DatabaseLimits
  retentionDays: RetentionDays
  /** A day is sealed this long after its end, so that what is a little late still comes in time [ms]. */
  sealAfterMs: number
  /** Samples sorted at once; a day with more of them goes into several files. */
  rowsPerFile: number
  /** Beyond this the oldest samples are removed, then the oldest minutes [bytes]. */
  largestBytes: number
  /** With less than this free on the disk no more samples are stored [bytes]. */
  leastFreeBytes: number
  /** A query that runs longer is stopped [ms]. */
  queryTimeoutMs: number
}

/** One commit: columns of equal length; `signal` counts in the order in which the names were sent. */
export interface CommitRequest {
  kind: 'commit'
  commit: number
  /** Rows before this number are stored with it: see `UnstoredRows`. */
  throughRow: number
  /** Names that this worker has not been sent before. */
  newNames: string[]
  signal: Int32Array
  at: Float64Array
  value: Float64Array
  quality: Uint8Array
  /** What the rows take the place of. */
  cut?: Cut
}

/** All that is stored of some signals, given by their names, from one moment to another [ms UTC]. */
export interface Cut {
  signals: readonly string[]
  from: number
  to: number
}

/**
 * Whole hours of some signals that no longer count in the sealed files that were there when they were replaced: those up
 * to `serial`. Files never change, so the table of these stands beside them; what took the place lies in later files.
 */
export interface Struck extends Cut {
  serial: number
}

export type Request =
  | CommitRequest
  | { kind: 'unstored'; id: number; rows: UnstoredRows; now: number }
  | { kind: 'maintain'; now: number }
  | { kind: 'close' }

/** Rows of a range that were not known to be durable when it was asked for; columns of equal length. */
export interface UnstoredRows {
  /** Number among all rows since start. */
  row: Float64Array
  /** Place among the signals asked for, each of them once. */
  place: Uint16Array
  at: Float64Array
  value: Float64Array
  quality: Uint8Array
}

export interface Answer {
  grid: Grid
  /** In the order of the signals asked for, each once. */
  envelopes: Envelope[]
  /** Last commit that the answer knows of. */
  through: number
}

export type Report =
  | { kind: 'ready'; lastCommit: number; notices: string[]; bytes: number }
  | { kind: 'refused'; sentence: string; isFinal: boolean }
  | { kind: 'committed'; commit: number; bytes: number }
  /** After a fatal failure the worker ends by itself. */
  | { kind: 'commitFailed'; commit: number; sentence: string }
  /** Wants to know what is not stored yet of what was asked. */
  | { kind: 'unstoredWanted'; id: number; query: RangeQuery }
  /** `sentence`: why something of it waits or failed. */
  | { kind: 'maintained'; sentence: string | undefined; bytes: number }
  | { kind: 'notice'; sentence: string }
