import type { LaneAddress } from './lane/address.ts'

/**
 * History of readings and figures. Columns end to end; a gap is NaN inside, null on the wire.
 * Implementations: history/stores/*. All must pass test/contract/historyStore.
 */

/** Rows of one append; the four columns have equal length. Signals are names such as "quennerby/netHead". */
export interface SampleBatch {
  signals: string[]
  at: Float64Array
  value: Float64Array
  /** 0 good · 1 uncertain · 2 bad. */
  quality: Uint8Array
}

export interface RangeQuery {
  signals: readonly string[]
  /** [ms UTC] inclusive. */
  from: number
  /** [ms UTC] exclusive. */
  to: number
  /** Number of buckets, 1 … 5000. */
  points: number
}

/** All columns have `at.length` entries; NaN where the bucket holds no sample. */
export interface RangeReply {
  /** Start of each bucket [ms UTC]. */
  at: Float64Array
  bucketMs: number
  columns: { signal: string; min: Float64Array; mean: Float64Array; max: Float64Array; count: Uint32Array }[]
}

export interface SamplesQuery {
  signals: readonly string[]
  /** [ms UTC] inclusive. */
  from: number
  /** [ms UTC] exclusive. */
  to: number
  /** Also the newest sample of each signal within this time before `from` [ms]. */
  lead: number
  /** Most rows, 1 … 500,000. */
  limit: number
}

/** Single samples in the order of their times; columns of equal length. */
export interface SamplesReply {
  /** Place of the signal among those asked for. */
  signal: Uint16Array
  at: Float64Array
  /** NaN where a value was due and could not be given. */
  value: Float64Array
  /** 0 good · 1 uncertain · 2 bad. */
  quality: Uint8Array
  /** Everything before this moment is here: `to`, or earlier where the limit was reached [ms UTC]. */
  through: number
}

/** Rows that take the place of others. */
export interface Rewrite {
  signals: readonly string[]
  /** [ms UTC] inclusive. */
  from: number
  /** [ms UTC] exclusive. */
  to: number
  /** Of these signals within the span. */
  rows: SampleBatch
}

export interface StoreHealth {
  ok: boolean
  /** Why not ok, in one sentence. */
  detail?: string
  appended: number
  /** Rows waiting in memory for the next commit. */
  pending: number
  pendingLimit: number
  /** Rows given up because the queue was full or the store refused them. */
  dropped: number
  bytesOnDisk: number
}

/** What is asked of history: beside the process that stores it. */
export interface HistoryReader {
  /** Includes rows that are appended but not yet committed. Rejects with Busy when too many queries wait. */
  query(query: RangeQuery): Promise<RangeReply>
  /**
   * Single samples, as long as they are kept. Rows that are not durable yet may be missing. Rejects with Busy as
   * above, and with a RangeError for a query that cannot be.
   */
  samples(query: SamplesQuery): Promise<SamplesReply>
}

export interface HistoryStore {
  /** Where a reader connects while the store is open. */
  readonly lane: LaneAddress
  open(): Promise<void>
  /**
   * Queues rows and returns at once. When `pendingLimit` is reached the oldest rows are dropped and counted.
   * Rows become durable with the next commit (≤ 1 s).
   */
  append(batch: SampleBatch): void
  /** Resolves when everything appended so far is durable; rejects if it could not be stored. */
  flush(): Promise<void>
  /**
   * Puts rows in the place of all that is stored of these signals within the span, in every tier: all or none, and
   * durable once it resolves. Rejects where it could not be stored, where single samples of that time are no longer kept,
   * and with a RangeError for a change that cannot be.
   */
  rewrite(change: Rewrite): Promise<void>
  health(): StoreHealth
  close(): Promise<void>
}
