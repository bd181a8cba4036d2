import { HOUR_MS } from '../../../server/history/grid.ts'
import type { HistoryStore, SampleBatch } from '../../../server/history/store.ts'

/**
 * What the killed processes write: slot n is one hour with ten samples of each of three signals, appended as one
 * batch. A slot is stored whole or not at all, so its count tells a lost, a torn and a doubled batch apart.
 */
export const FIRST_SLOT_AT = Date.UTC(2026, 10, 2)
export const SLOT_ROWS = 10
export const SIGNALS = ['mill/netHead', 'mill/discharge', 'mill/activePower']

export function slotBatch(slot: number): SampleBatch {
  const rows = SIGNALS.flatMap((signal) =>
    Array.from({ length: SLOT_ROWS }, (_, i) => ({ signal, at: slotAt(slot) + (i * HOUR_MS) / SLOT_ROWS })),
  )
  return {
    signals: rows.map((row) => row.signal),
    at: Float64Array.from(rows, (row) => row.at),
    value: new Float64Array(rows.length).fill(slot),
    quality: new Uint8Array(rows.length),
  }
}

export function slotAt(slot: number): number {
  return FIRST_SLOT_AT + slot * HOUR_MS
}

/** Slots stored whole, and those of which a part or more than the whole is stored. */
export interface Stored {
  whole: Set<number>
  faulty: { slot: number; counts: number[] }[]
}

/** Reads back all slots below `end`, from roll-ups (one bucket a slot) or from samples (60 a slot). */
export async function readSlots(store: HistoryStore, end: number, bucketsPerSlot: 1 | 60): Promise<Stored> {
  const stored: Stored = { whole: new Set(), faulty: [] }
  const step = Math.floor(4_800 / bucketsPerSlot)
  for (let first = 0; first < end; first += step) {
    const slots = Math.min(step, end - first)
    const range = { from: slotAt(first), to: slotAt(first + slots), points: slots * bucketsPerSlot }
    const { columns } = await store.query({ signals: SIGNALS, ...range })
    for (let i = 0; i < slots; i++) {
      const counts = columns.map(({ count }) =>
        count.subarray(i * bucketsPerSlot, (i + 1) * bucketsPerSlot).reduce((sum, n) => sum + n, 0),
      )
      if (counts.every((count) => count === SLOT_ROWS)) stored.whole.add(first + i)
      else if (counts.some((count) => count > 0)) stored.faulty.push({ slot: first + i, counts })
    }
  }
  return stored
}
