import type { Quality } from '../../../server/wire/figure.ts'
import type { MachineState } from '../../../server/wire/plant.ts'
import type { NastyPlant } from './plants.ts'

/**
 * One row of the table of bad input. A gateway publishes what `sent` says over MQTT; `is` is what is really so, and what a
 * second plant beside it with the same file is told. Whatever the first calls good must be so, within its ±, by the second.
 */
export interface NastyRow {
  /** Ends the sentence "Headrace, when …". */
  when: string
  plant: NastyPlant
  /** More of the plant file: whole sections, e.g. `alarms`. */
  more?: string
  /** Played one after the other on a plant that ran as its normal values say for 30 s before. */
  steps: readonly NastyStep[]
  says: Saying
  /** Where the expected numbers are from, when it is no more than what was sent. */
  source?: string
}

/** A time in which every instrument sends every second. */
export interface NastyStep {
  seconds: number
  /** What is really so from here on, by instrument, in the unit of its file. */
  is?: Readonly<Record<string, number>>
  /** What comes over MQTT in this step instead: the payload as it is, made at a time [ms UTC], or null for silence. */
  sent?: Readonly<Record<string, string | null | ((now: number) => string)>>
}

/** What is said at the end of the last step; what is left out is not looked at, but for the journal. */
export interface Saying {
  figures?: Readonly<Record<string, FigureSaying>>
  /** Every figure that is bad, and no other. */
  bad?: readonly string[]
  state?: MachineState
  sentence?: RegExp
  /** Alarm → e.g. "unacknowledged, active", "normal, unknown". */
  alarms?: Readonly<Record<string, string>>
  /** Every step of an alarm since the row began, e.g. "river raise"; left out: none. */
  journal?: readonly string[]
  /** Since the row began: what was counted [SI], and the seconds in which nothing could be. */
  counters?: Readonly<Record<string, { counted?: number; gap?: number }>>
  /** Payloads that could not be read. */
  faults?: number
}

export interface FigureSaying {
  quality?: Quality
  /** In the unit of people, to one part in a thousand; null for a blank. */
  value?: number | null
  /** The ± may be no larger, in the unit of people. */
  within?: number
  reason?: RegExp
}
