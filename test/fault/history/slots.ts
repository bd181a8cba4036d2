import { HOUR_MS } from '../../../server/history/grid.ts'
import type { HistoryReader, SampleBatch } from '../../../server/history/store.ts'

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

/** Buckets of an hour each are answered from hours; buckets shorter than a minute need the samples. */
const BUCKETS_PER_SLOT = { hours: 1, samples: 120 }

/**
 * Reads back all slots below `end`, from roll-ups or from single samples. Where samples are no longer kept, the
 * store answers with wider buckets, which tell as much.
 */
export async function readSlots(
  store: HistoryReader,
  end: number,
  from: keyof typeof BUCKETS_PER_SLOT,
): Promise<Stored> {
  const stored: Stored = { whole: new Set(), faulty: [] }
  const step = Math.floor(4_800 / BUCKETS_PER_SLOT[from])
  for (let first = 0; first < end; first += step) {
    const slots = Math.min(step, end - first)
    const range = { from: slotAt(first), to: slotAt(first + slots), points: slots * BUCKETS_PER_SLOT[from] }
    const { at, columns } = await store.query({ signals: SIGNALS, ...range })
    const counts = Array.from({ length: slots }, () => SIGNALS.map(() => 0))
    columns.forEach(({ count }, signal) => {
      for (let i = 0; i < at.length; i++)
        counts[Math.floor((at[i]! - range.from) / HOUR_MS)]![signal]! += count[i]!
    })
    counts.forEach((ofSlot, i) => {
      if (ofSlot.every((count) => count === SLOT_ROWS)) stored.whole.add(first + i)
      else if (ofSlot.some((count) => count > 0)) stored.faulty.push({ slot: first + i, counts: ofSlot })
    })
  }
  return stored
}
