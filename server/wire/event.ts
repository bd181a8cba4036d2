import type { UtcMs } from './figure.ts'

/** begun: still being recorded · complete · cut: the server ended before the record did. */
export type EventStatus = 'begun' | 'complete' | 'cut'

/** One line of the list of events. */
export interface EventSummary {
  id: string
  plant: string
  /** When the alarm was raised that began the record. */
  at: UtcMs
  /** That alarm. */
  alarm: string
  name: string
  status: EventStatus
  /** What happened, in a few sentences; the first one is the headline. */
  story: string[]
  simulated: boolean
}

/** Samples of one instrument at full rate. */
export interface EventChannel {
  quantity: string
  name: string
  /** UCUM codes: of `value`, and the one that people read. */
  unit: string
  viewUnit: string
  /** A state, 0 or 1: it lasts until the next sample. */
  discrete: boolean
  /** Milliseconds from the event's `at`. */
  at: number[]
  value: number[]
  /** Samples that were left out because there were too many. */
  dropped: number
}

export interface EventPeak {
  /** [rad/s] */
  speed: number
  /** Share of the rated speed; null where the plant file gives none. */
  share: number | null
  at: UtcMs
  /** What told it, e.g. "the tachometer". */
  witness: string
}

/** GET /api/plants/:p/events/:id */
export interface EventRecord extends EventSummary {
  /** Span of the record. */
  from: UtcMs
  to: UtcMs
  channels: EventChannel[]
  peak: EventPeak | null
  /** Time [s] at or above shares of the rated speed. */
  levels: { share: number; seconds: number }[]
  /** Alarms in the order in which their conditions came (and went), by time of measurement: first-out. */
  order: { alarm: string; name: string; at: UtcMs; came: boolean }[]
}
