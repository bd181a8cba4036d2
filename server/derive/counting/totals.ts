import { type Amount, plus } from '../integrate.ts'
import type { DayTotal } from './storedCounter.ts'

/** Totals by day, or by quarter of an hour: those in hand before those that are stored. */
export interface Totals<Key extends string | number> {
  /** Undefined where nothing was counted. */
  of(key: Key): DayTotal | undefined
  put(key: Key, total: DayTotal): void
  add(key: Key, amount: Amount): void
  inHand(): ReadonlyMap<Key, DayTotal>
  /** What must be stored. */
  unsaved(): [Key, DayTotal][]
  saved(): void
}

export const NO_TOTAL: DayTotal = { value: 0, gapSeconds: 0, uncertainSeconds: 0, u95: 0, peak: null }

export function createTotals<Key extends string | number>(
  read: (key: Key) => DayTotal | undefined,
): Totals<Key> {
  /** The newest, and those that are not stored yet. */
  const inHand = new Map<Key, DayTotal>()
  const unsaved = new Set<Key>()
  const of = (key: Key) => inHand.get(key) ?? read(key)

  function put(key: Key, total: DayTotal): void {
    inHand.set(key, total)
    unsaved.add(key)
  }

  return {
    of,
    put,
    add: (key, amount) => put(key, plus(of(key) ?? NO_TOTAL, amount)),
    inHand: () => inHand,
    unsaved: () => [...unsaved].map((key) => [key, inHand.get(key)!]),
    saved() {
      unsaved.clear()
      let newest: Key | undefined
      for (const key of inHand.keys()) if (newest === undefined || key > newest) newest = key
      for (const key of inHand.keys()) if (key !== newest) inHand.delete(key)
    },
  }
}
