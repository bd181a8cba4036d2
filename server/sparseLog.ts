import type { Clock } from './clock.ts'

/** Shortest time between two lines of one kind [ms]. */
const PERIOD_MS = 10_000

/**
 * A log that a misbehaving client cannot flood: of each kind of line at most one per 10 s, and the next line says
 * how many were left out.
 *
 * @param kind one of a handful of fixed words; never taken from the network, since each is remembered.
 */
export function createSparseLog(log: (line: string) => void, clock: Clock) {
  const kinds = new Map<string, { at: number; leftOut: number }>()
  return (kind: string, line: string): void => {
    const now = clock.mono()
    const last = kinds.get(kind)
    if (last && now - last.at < PERIOD_MS) {
      last.leftOut++
      return
    }
    kinds.set(kind, { at: now, leftOut: 0 })
    log(last && last.leftOut > 0 ? `${line} (and ${last.leftOut} more of this kind)` : line)
  }
}

export type SparseLog = ReturnType<typeof createSparseLog>
