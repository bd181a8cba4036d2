import type { Quality, UtcMs } from './figure.ts'

/** What an alarm announces: states A to F of IEC 62682 / ISA-18.2. */
export type AnnouncedState =
  | 'normal'
  | 'unacknowledged'
  | 'acknowledged'
  | 'returnedUnacknowledged'
  | 'latchedUnacknowledged'
  | 'latchedAcknowledged'

/** States A to I of IEC 62682 / ISA-18.2; in the last three nothing is announced. */
export type AlarmState = AnnouncedState | 'shelved' | 'suppressed' | 'outOfService'

/** Nobody has answered it yet, whether its condition still holds or not. */
export function isUnacknowledged(state: AlarmState): boolean {
  return state === 'unacknowledged' || state === 'returnedUnacknowledged' || state === 'latchedUnacknowledged'
}

export type AlarmPriority = 'high' | 'medium' | 'low'

/** Who keeps an alarm from being announced, since when and why. */
export interface Withheld {
  by: string
  at: UtcMs
  reason: string
}

export interface AlarmView {
  id: string
  /** Short text, e.g. "Over-speed". */
  name: string
  /** A notice is for the next visit: it asks nobody to answer and is no part of the alarm list. */
  entry: 'alarm' | 'notice'
  /** Name of the alarm kind in the plant file. */
  kind: string
  /** Whether the value of its figure says something in a sentence. */
  hasAmount: boolean
  /** It tells that a measurement is lost, by which other alarms are blind. */
  tellsOfLoss: boolean
  /** A class has to know of it whatever else is hidden or frozen. */
  isForSafety: boolean
  priority: AlarmPriority
  state: AlarmState
  /** True while the condition holds, whatever the state; false while suppressed by design. */
  active: boolean
  /** True when the input is missing or bad, so that the condition cannot be judged: not the same as normal. */
  unknown: boolean
  figure: string
  /** The limit that was crossed, in the figure's wire unit; only where one number says it all. */
  limit?: number
  /** What is watched for, in words, e.g. "at or above 110 % of rated". */
  condition: string
  /** What more there is to say now, e.g. "at this rate reached at 21:40". */
  detail?: string
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
  /** Alarms of one group have one cause; null without a group. */
  group: string | null
  /** First-out: id of the alarm of the group that this one followed; null when it was first or alone. */
  after: string | null
  shelvedUntil: UtcMs | null
  /** Set while shelved or out of service. */
  withheld: Withheld | null
  /** Longest time [ms] that it may be shelved; 0: not at all. */
  longestShelfMs: number
  cause?: string
  consequence?: string
  action?: string
  simulated: boolean
}

export type JournalEvent =
  | 'raise'
  | 'return'
  | 'acknowledge'
  | 'reset'
  | 'shelve'
  | 'unshelve'
  | 'shelfExpired'
  | 'takeOut'
  | 'putBack'

/** One line of the journal. */
export interface JournalEntry {
  sequence: number
  at: UtcMs
  plant: string
  alarm: string
  /** Priority and entry at that time: the plant file may say otherwise today. */
  priority: AlarmPriority
  entry: 'alarm' | 'notice'
  from: AlarmState
  to: AlarmState
  event: JournalEvent
  value: number | null
  /** On a raise: the first alarm of its group, where it was not first itself. */
  after?: string
  /** Who did it. */
  by?: string
  /** From where, e.g. "page at 127.0.0.1". */
  via?: string
  note?: string
  /** On a shelving: when it ends. */
  until?: UtcMs
}

/** The alarms of one span against the measures of IEC 62682 / ISA-18.2. */
export interface AlarmPerformance {
  from: UtcMs
  to: UtcMs
  /** Raises of alarms; notices are not counted. */
  raised: number
  averagePerTenMinutes: number
  /** Most raises in any ten minutes. */
  mostInTenMinutes: number
  /** Share of the time in which more had come than a person can follow, 0 … 1. */
  shareInFlood: number
  floods: { from: UtcMs; to: UtcMs; raised: number }[]
  byPriority: Record<AlarmPriority, number>
  /** The ten that were raised most often; `share` of all raises. */
  topTen: { alarm: string; raised: number; share: number }[]
  /** Raised three times or more within one minute; `bursts` tells how often that happened. */
  chattering: { alarm: string; bursts: number; mostInOneMinute: number }[]
  /** Active for more than 24 h without a break. */
  standing: { alarm: string; since: UtcMs; hours: number }[]
  acknowledged: number
  /** Seconds from raise to acknowledgement; null where none was acknowledged. */
  medianAcknowledgeSeconds: number | null
  longestAcknowledgeSeconds: number | null
  /** Raises in the span that nobody had acknowledged at its end. */
  neverAcknowledged: number
  shelvings: number
}
