import type { JournalEntry } from './alarm.ts'
import type { Quality, UtcMs } from './figure.ts'

/** GET /api/plants/:p/history. All columns have the length of `at`; a gap is null. */
export interface HistoryReply {
  from: UtcMs
  to: UtcMs
  /** Width of one bucket [ms]. */
  bucketMs: number
  /** Start of each bucket. */
  at: UtcMs[]
  figures: {
    id: string
    unit: string
    min: (number | null)[]
    mean: (number | null)[]
    max: (number | null)[]
  }[]
}

/** A counter that survives restarts. */
export interface CounterView {
  id: string
  name: string
  unit: string
  value: number
  /** When it began to count. */
  since: UtcMs
  /** Last time it was brought forward. */
  at: UtcMs | null
  /** Time [s] since `since` in which nothing could be integrated. */
  gapSeconds: number
  quality: Quality
}

export interface TopicHealth {
  topic: string
  plant: string
  instrument: string
  received: number
  faults: number
  /** Time of the last packet of any kind; null if none since start. */
  lastReceivedAt: UtcMs | null
  lastFault?: { at: UtcMs; message: string; example: string }
}

export interface QueueHealth {
  name: string
  length: number
  limit: number
  /** What happens when full, in words. */
  policy: string
  dropped: number
}

export interface HealthReply {
  at: UtcMs
  version: string
  startedAt: UtcMs
  stages: { name: string; perSecond: number; total: number; faults: number; detail?: string }[]
  queues: QueueHealth[]
  topics: TopicHealth[]
  unmapped: { topic: string; received: number; example: string; lastReceivedAt: UtcMs }[]
  unmappedDropped: number
  source: { connected: boolean; name: string; since: UtcMs | null; detail?: string }
  storing: { ok: boolean; detail?: string }
  eventLoopDelayP99Ms: number
  memoryRssBytes: number
}

export interface JournalReply {
  entries: JournalEntry[]
}

/** Every error answer of the HTTP interface. */
export interface ErrorReply {
  error: string
  /** Where it was (path in the body or query), what came and what was expected, one per fault. */
  faults?: { path: string; received: string; expected: string }[]
}
