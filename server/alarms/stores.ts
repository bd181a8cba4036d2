import type { State } from '../state/openState.ts'
import { createEventStore, type EventStore } from './events/eventStore.ts'
import { createFloodWatch, type FloodWatch } from './flood.ts'
import { type Alongside, createJournal, type Journal } from './journal.ts'

/** What the alarms of all plants share. */
export interface AlarmStores {
  journal: Journal
  events: EventStore
  flood: FloodWatch
}

/** @param alongside What else is written with each step of an alarm, e.g. its messages. */
export function createAlarmStores(state: State, alongside?: Alongside): AlarmStores {
  return {
    journal: createJournal(state, alongside),
    events: createEventStore(state),
    flood: createFloodWatch(),
  }
}
