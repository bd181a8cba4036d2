import type { Reading } from '../../ingest/reading.ts'

/** Readings of one instrument that are remembered before a trigger; the oldest go when there are more. */
export const MOST_RECENT = 2000

/** The last seconds of every instrument, and the reading before them, so that slow ones and contacts are known too. */
export interface RecentReadings {
  take(reading: Reading): void
  /** Forgets what is older than `spanMs` before `now`. */
  all(now: number): Reading[]
  clear(): void
}

export function createRecentReadings(spanMs: number): RecentReadings {
  const byInstrument = new Map<string, Reading[]>()
  return {
    take(reading) {
      const kept = byInstrument.get(reading.instrument) ?? []
      byInstrument.set(reading.instrument, kept)
      kept.push(reading)
      prune(kept, reading.measuredAt - spanMs)
    },
    all(now) {
      for (const kept of byInstrument.values()) prune(kept, now - spanMs)
      return [...byInstrument.values()].flat()
    },
    clear: () => byInstrument.clear(),
  }
}

/** The newest reading at or before `from` stays. */
function prune(kept: Reading[], from: number): void {
  let old = Math.max(0, kept.length - MOST_RECENT)
  while (old + 1 < kept.length && kept[old + 1]!.measuredAt <= from) old++
  if (old > 0) kept.splice(0, old)
}
