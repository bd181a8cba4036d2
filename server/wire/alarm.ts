import type { Quality, UtcMs } from './figure.ts'

/** IEC 62682 / ISA-18.2 alarm states. `unknown` is ours: the input is bad, so nobody can say. */
export type AlarmState =
  | 'normal'
  | 'unacknowledged'
  | 'acknowledged'
  | 'returnedUnacknowledged'
  | 'latchedUnacknowledged'
  | 'latchedAcknowledged'

export type AlarmPriority = 'high' | 'medium' | 'low'

export interface AlarmView {
  id: string
  /** Short text, e.g. "Over-speed". */
  name: string
  priority: AlarmPriority
  state: AlarmState
  /** True while the condition holds, whatever the state. */
  active: boolean
  /** True when the input is missing or bad, so that the condition cannot be judged. */
  unknown: boolean
  figure: string
  /** The limit that was crossed, in the figure's wire unit. */
  limit?: number
  /** Value at the last transition, in the figure's wire unit. */
  value: number | null
  /** Largest (or for a low alarm smallest) value since it was raised, in the figure's wire unit. */
  peak: number | null
  peakAt: UtcMs | null
  quality: Quality
  /** When the condition was last raised; null if never. */
  raisedAt: UtcMs | null
  /** When the state last changed. */
  changedAt: UtcMs | null
  acknowledgedAt: UtcMs | null
  acknowledgedBy: string | null
  latching: boolean
  cause?: string
  consequence?: string
  action?: string
  simulated: boolean
}

/** One line of the journal. */
export interface JournalEntry {
  sequence: number
  at: UtcMs
  plant: string
  alarm: string
  from: AlarmState
  to: AlarmState
  event: 'raise' | 'return' | 'acknowledge' | 'reset' | 'inputLost' | 'inputBack'
  value: number | null
  by?: string
  note?: string
}
