import type { HistoryStore } from '../history/store.ts'
import type { Outcome } from '../outcome.ts'
import { Busy } from '../turns.ts'
import type { Ask } from './questions.ts'

/** What can be read of history from beside the process that holds it. */
export type HistoryReader = Pick<HistoryStore, 'query' | 'samples'>

/** History as it is asked of the watch. Rejects as the store does. */
export function createAskedHistory(ask: Ask): HistoryReader {
  return {
    query: async (range) => held(await ask('range', range)),
    samples: async (query) => held(await ask('samples', query)),
  }
}

function held<T>(outcome: Outcome<T>): T {
  if (outcome.ok) return outcome.value
  throw outcome.status === 503 ? new Busy(outcome.error) : new Error(outcome.error)
}
