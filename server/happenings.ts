import type { Clock } from './clock.ts'
import type { Reading } from './ingest/reading.ts'
import { createListeners, type Listeners } from './listeners.ts'
import type { LivePlant } from './livePlant.ts'
import { createSparseLog } from './sparseLog.ts'
import type { AlarmView, JournalEntry } from './wire/alarm.ts'

/**
 * What the watch tells of, in the order in which it happens; listeners are called at once. One that throws harms neither
 * the others nor the watch: what it threw is told and counted.
 */
export interface Happenings {
  /** A reading, after its plant has judged and taken it. */
  reading: Listeners<Reading>
  /** A step in the life of an alarm, after it went to the journal and the outbox. */
  transition: Listeners<{ plant: string; alarm: AlarmView; entry: JournalEntry }>
  /** A plant was brought up to date; these figures (by index) changed since the time before. */
  figures: Listeners<{ live: LivePlant; changed: readonly number[] }>
  /** The plant files were read again; ids of the plants that there are now. */
  plantsChanged: Listeners<readonly string[]>
  /** How often a listener threw. */
  faults(): number
}

export function createHappenings(tell: (text: string) => void, clock: Clock): Happenings {
  const log = createSparseLog(tell, clock)
  let faults = 0
  const onFault = (error: unknown) => {
    faults++
    log(
      'listener',
      `watch: a listener failed, all else goes on: ${error instanceof Error ? error.stack : error}`,
    )
  }
  return {
    reading: createListeners(onFault),
    transition: createListeners(onFault),
    figures: createListeners(onFault),
    plantsChanged: createListeners(onFault),
    faults: () => faults,
  }
}
