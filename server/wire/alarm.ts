import type { AlarmState } from './alarmReplies.ts'

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

/** Nobody has answered it yet, whether its condition still holds or not. */
export function isUnacknowledged(state: AlarmState): boolean {
  return state === 'unacknowledged' || state === 'returnedUnacknowledged' || state === 'latchedUnacknowledged'
}
