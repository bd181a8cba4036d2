import type { AlarmPriority, AlarmState } from './alarmReplies.ts'

export type {
  AlarmPerformance,
  AlarmPriority,
  AlarmState,
  AlarmView,
  AnnouncedState,
  EpisodeView,
  JournalEntry,
  JournalEvent,
  JournalReply,
  Onset,
} from './alarmReplies.ts'

/** In which order people look: 0 first. */
export const PRIORITY_RANK: Record<AlarmPriority, number> = { high: 0, medium: 1, low: 2 }

/** Nobody has answered it yet, whether its condition still holds or not. */
export function isUnacknowledged(state: AlarmState): boolean {
  return state === 'unacknowledged' || state === 'returnedUnacknowledged' || state === 'latchedUnacknowledged'
}
