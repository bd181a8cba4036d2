import type { State } from '../state/openState.ts'
import { createEventStore, type EventStore } from './events/eventStore.ts'
import { createFloodWatch, type FloodWatch } from './flood.ts'
import { createJournal, type Journal } from './journal.ts'

/** What the alarms of all plants share. */
export interface AlarmStores {
  journal: Journal
  events: EventStore
  flood: FloodWatch
}

export function createAlarmStores(state: State): AlarmStores {
  return { journal: createJournal(state), events: createEventStore(state), flood: createFloodWatch() }
}
