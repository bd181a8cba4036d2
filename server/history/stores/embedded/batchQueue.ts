import { checkColumns, isInstant, isSignalName } from '../../samples.ts'
import type { SampleBatch } from '../../store.ts'
import type { Rows } from './messages.ts'

/** A batch on its way to the worker, in the numbers of this session. */
export interface QueuedBatch {
  number: number
  signals: string[]
  rows: Rows
}

/** Batches that wait to be stored: at most `limit` rows; beyond that the oldest batch is given up and counted. */
export interface BatchQueue {
  add(batch: SampleBatch): void
  first(): QueuedBatch | undefined
  /** Takes out everything up to this batch number: it is stored. */
  settle(number: number): void
  rows(): number
  appended(): number
  dropped(): number
}

export function createBatchQueue(limit: number): BatchQueue {
  const queue: QueuedBatch[] = []
  let rows = 0
  let appended = 0
  let dropped = 0
  let number = 0

  return {
    add(batch) {
      checkColumns(batch)
      const kept = fitRows(batch)
      dropped += batch.signals.length - kept.length
      appended += batch.signals.length
      if (kept.length === 0) return
      queue.push(pack(batch, kept, ++number))
      rows += kept.length
      // The first may be on its way to the worker already, so it stays.
      while (rows > limit && queue.length > 1) {
        const [gone] = queue.splice(1, 1)
        rows -= gone!.rows.at.length
        dropped += gone!.rows.at.length
      }
    },
    first: () => queue[0],
    settle(upTo) {
      while (queue[0] && queue[0].number <= upTo) rows -= queue.shift()!.rows.at.length
    },
    rows: () => rows,
    appended: () => appended,
    dropped: () => dropped,
  }
}

/** Row numbers that can be stored. */
function fitRows({ signals, at }: SampleBatch): number[] {
  return signals.flatMap((signal, i) => (isSignalName(signal) && isInstant(at[i]!) ? [i] : []))
}

function pack(batch: SampleBatch, kept: readonly number[], number: number): QueuedBatch {
  const names = [...new Set(kept.map((i) => batch.signals[i]!))]
  const place = new Map(names.map((name, i) => [name, i]))
  return {
    number,
    signals: names,
    rows: {
      signal: Int32Array.from(kept, (i) => place.get(batch.signals[i]!)!),
      at: Float64Array.from(kept, (i) => batch.at[i]!),
      value: Float64Array.from(kept, (i) => batch.value[i]!),
      quality: Uint8Array.from(kept, (i) => batch.quality[i]!),
    },
  }
}
