import type { Grid } from '../../grid.ts'

/** What the server asks of the history worker. `id` comes back in the answer. */
export type Request =
  | { kind: 'open'; id: number; folder: string; retention: Retention; session: number }
  | { kind: 'append'; id: number; batch: number; signals: string[]; rows: Rows }
  | { kind: 'query'; id: number; signals: string[]; from: number; to: number; points: number }
  | { kind: 'seal'; id: number; now: number }
  | { kind: 'close'; id: number }

export interface Rows {
  /** Index into the names of the batch. */
  signal: Int32Array
  /** [ms UTC] */
  at: Float64Array
  /** NaN is an explicit gap. */
  value: Float64Array
  quality: Uint8Array
}

export type Answer =
  | { id: number; ok: true; result: Result }
  | { id: number; ok: false; error: string; kind: 'locked' | 'bad' }

export type Result =
  | {
      kind: 'opened' /** Last batch of this session that is stored. */
      lastBatch: number
      note?: string
      bytes: number
    }
  | { kind: 'appended'; bytes: number }
  | { kind: 'found'; grid: Grid; cells: Cells }
  | { kind: 'sealed'; days: string[]; bytes: number }
  | { kind: 'closed' }

/** One row per bucket of a signal that holds anything. */
export interface Cells {
  /** Index into the signals asked for. */
  signal: Int32Array
  bucket: Int32Array
  min: Float64Array
  max: Float64Array
  sum: Float64Array
  count: Uint32Array
}

/** How long each tier is kept [days]; infinity for ever. */
export interface Retention {
  rawDays: number
  minuteDays: number
}
