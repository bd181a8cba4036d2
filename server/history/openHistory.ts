import type { Clock } from '../clock.ts'
import type { HistoryStore } from './store.ts'
import { embeddedStore } from './stores/embedded.ts'

/** Days that samples and minute roll-ups are kept; hours are kept for ever. */
const RETENTION = { rawDays: 400, minuteDays: 3650 }

/** The history of this machine. */
export function openHistory({ folder, clock }: { folder: string; clock: Clock }): HistoryStore {
  return embeddedStore({ folder, clock, retention: RETENTION })
}
