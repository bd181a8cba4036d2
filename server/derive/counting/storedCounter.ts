import type { CounterState } from '../integrate.ts'

/** meter: the meter's own steps are added up · integrated: a figure over time · counted: events one by one. */
export type CounterSource = 'meter' | 'integrated' | 'counted'

/** A counter as it is kept across restarts. */
export interface StoredCounter {
  id: string
  /** When it began to count [ms UTC]. */
  since: number
  source: CounterSource
  state: CounterState
  /** What else it must remember, e.g. the last reading of its meter; undefined where nothing. */
  memory?: unknown
}

/** What one local day gave. */
export interface DayTotal {
  value: number
  gapSeconds: number
  uncertainSeconds: number
  /** Half-width of the 95 % interval [SI]; null where for a part of it none was known. */
  u95: number | null
  /** Highest value of the watched figure during an event [SI]; null where there was none. */
  peak: number | null
}

export interface DayRow extends DayTotal {
  /** Local date, e.g. "2026-03-29". */
  date: string
}

/** What one quarter of an hour gave: what can be counted anew when readings of it come late. */
export interface QuarterRow extends DayTotal {
  /** Its start [ms UTC]. */
  quarter: number
}

/** Everything of one counter that changed since it was last stored; totals, not differences, so that it may be repeated. */
export interface CounterChange {
  counter: StoredCounter
  days: DayRow[]
  quarters: QuarterRow[]
}

/** Keeps counters across restarts. */
export interface CounterStore {
  load(plant: string, id: string): StoredCounter | undefined
  /** The days that were stored from one date to another, both included; days without a row are left out. */
  days(plant: string, id: string, span: { from: string; to: string }): DayRow[]
  /** The quarters from one moment to another that were stored; they are kept for as long as single readings usually are. */
  quarters(plant: string, id: string, span: { from: number; to: number }): QuarterRow[]
  /** All changes and what is written alongside, or none. Returns whether they are stored. */
  save(plant: string, changes: readonly CounterChange[], alongside?: () => void): boolean
}
