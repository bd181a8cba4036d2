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

export type CounterGroup = 'energy' | 'water' | 'running' | 'protection' | 'battery'

/** A counter that survives restarts. */
export interface CounterView {
  id: string
  name: string
  group: CounterGroup
  unit: string
  value: number
  /** meter: the meter's own steps are added up · integrated: a figure over time · counted: events one by one. */
  source: 'meter' | 'integrated' | 'counted'
  /** When it began to count. */
  since: UtcMs
  /** Last time it was brought forward. */
  at: UtcMs | null
  /** Time [s] since `since` in which nothing could be counted. */
  gapSeconds: number
  /** Time [s] that was bridged, or counted from uncertain figures. */
  uncertainSeconds: number
  quality: Quality
  /** Local days of the plant's time zone; null where it did not count yet. */
  today: CounterPeriod | null
  yesterday: CounterPeriod | null
  thisMonth: CounterPeriod | null
  /** Highest value during an event, for counters of events that have one. */
  peak?: { value: number; unit: string; at: UtcMs }
  /** Where a meter is read and a figure is integrated too: how far the two differ, as a share of the meter's. */
  check?: { today: number | null; yesterday: number | null }
  /** What a person should know, in sentences. */
  remarks: string[]
}

/** A part of a counter. */
export interface CounterPeriod {
  /** Begin of the period, or of the counting where that is later. */
  from: UtcMs
  /** End of the period, or now where that is earlier. */
  to: UtcMs
  value: number
  gapSeconds: number
  uncertainSeconds: number
  /** Highest value during an event; absent where there was none. */
  peak?: number
}

/** GET /api/plants/:p/counters/:c/days?from=&to= */
export interface CounterDaysReply {
  id: string
  unit: string
  timeZone: string
  /** Every date from the first to the last one asked for on which it counted, also those that were missed. */
  days: (CounterPeriod & { date: string })[]
}

/** GET /api/plants/:p/indices: what follows from counters; computed on asking, never stored. */
export interface IndexView {
  id: string
  name: string
  unit: string
  /** UCUM code of the unit people read it in. */
  viewUnit: string
  /** In words, e.g. "energy ÷ (rated power × time)". */
  formula: string
  /** What the plant lacks for it, e.g. "needs …"; then there are no values. */
  needs?: string
  thisMonth: IndexValue | null
  /** Since the counters that it uses began to count together, at most 366 days back. */
  since: IndexValue | null
}

export interface IndexValue {
  from: UtcMs
  to: UtcMs
  /** Null when it cannot be given; `reasons` say why. */
  value: number | null
  /** Time [s] in the period of which nothing is known; it is left out of the reckoning. */
  unknownSeconds: number
  quality: Quality
  reasons: string[]
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
