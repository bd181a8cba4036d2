import { systemClock } from '../../server/clock.ts'
import { createLaneReader } from '../../server/history/lane/laneReader.ts'
import { type HistoryOptions, openHistory } from '../../server/history/openHistory.ts'
import type { HistoryReader, HistoryStore } from '../../server/history/store.ts'
import type { EmbeddedStore } from '../../server/history/stores/embedded.ts'

/** A store with a reader at the other end of its lane. */
export type Readable<Store extends HistoryStore = HistoryStore> = Store & HistoryReader

/** A history, not open yet, that is read as the page side reads it: over its socket. */
export function readableHistory(options: HistoryOptions): Readable<EmbeddedStore> {
  const store = openHistory(options)
  const { query, samples, close } = createLaneReader(store.lane, systemClock)
  return {
    ...store,
    query,
    samples,
    async close() {
      close()
      await store.close()
    },
  }
}
