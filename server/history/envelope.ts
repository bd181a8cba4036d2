import type { Grid } from './grid.ts'
import type { RangeReply } from './store.ts'

/** Running minimum, maximum, sum and number of samples per bucket of one signal. */
export interface Envelope {
  min: Float64Array
  max: Float64Array
  sum: Float64Array
  count: Uint32Array
}

/** One bucket's share from a roll-up or from a part of the samples. */
export interface Share {
  min: number
  max: number
  sum: number
  count: number
}

/** Bad values say nothing of the plant; they are kept in the store but stay out of every envelope. */
export const BAD_QUALITY = 2

/** Bytes of one bucket: three numbers and a count. */
const CELL_BYTES = 28
/** Beyond this a block is not kept for the next answer: more than one reply over HTTP may ask for (historyRoutes.ts). */
const LARGEST_KEPT = 1_000_000

/** @param take Memory of at least so many bytes, with whatever it holds. */
export function createEnvelopes(
  many: number,
  length: number,
  take = (bytes: number) => new ArrayBuffer(bytes),
): Envelope[] {
  const block = take(many * length * CELL_BYTES)
  const numbers = (i: number) => new Float64Array(block, i * length * 8, length)
  return Array.from({ length: many }, (_, i) => ({
    min: numbers(3 * i).fill(Number.POSITIVE_INFINITY),
    max: numbers(3 * i + 1).fill(Number.NEGATIVE_INFINITY),
    sum: numbers(3 * i + 2).fill(0),
    count: new Uint32Array(block, (many * 6 + i) * length * 4, length).fill(0),
  }))
}

/**
 * Memory for one answer after the other, where each is gone before the next is begun. The collector hardly sees columns: made
 * anew for each of 36 answers a second, 60 MB of them lay about.
 */
export function createBlock(): (bytes: number) => ArrayBuffer {
  let kept = new ArrayBuffer(0)
  return (bytes) => {
    if (bytes > LARGEST_KEPT) return new ArrayBuffer(bytes)
    if (kept.byteLength < bytes) kept = new ArrayBuffer(bytes)
    return kept
  }
}

/** Adds one sample. Outside from … to, not a finite number, or bad: it leaves the envelope as it is. */
export function addSample(
  envelope: Envelope,
  grid: Grid,
  sample: { at: number; value: number; quality: number },
): void {
  const { at, value, quality } = sample
  if (at < grid.from || at >= grid.to || !Number.isFinite(value) || quality >= BAD_QUALITY) return
  addShare(envelope, Math.floor((at - grid.start) / grid.bucketMs), {
    min: value,
    max: value,
    sum: value,
    count: 1,
  })
}

export function addShare(envelope: Envelope, bucket: number, share: Share): void {
  envelope.min[bucket] = Math.min(envelope.min[bucket]!, share.min)
  envelope.max[bucket] = Math.max(envelope.max[bucket]!, share.max)
  envelope.sum[bucket]! += share.sum
  envelope.count[bucket]! += share.count
}

/** The answer: mean = sum / count per bucket, NaN where a bucket holds no sample. It takes the columns of the envelopes over. */
export function replyFrom(grid: Grid, envelopes: ReadonlyMap<string, Envelope>): RangeReply {
  const at = new Float64Array(grid.length)
  for (let i = 0; i < at.length; i++) at[i] = grid.start + i * grid.bucketMs
  const columns = [...envelopes].map(([signal, { min, max, sum, count }]) => {
    for (let i = 0; i < count.length; i++) {
      const isGap = count[i] === 0
      sum[i] = isGap ? Number.NaN : sum[i]! / count[i]!
      if (isGap) min[i] = max[i] = Number.NaN
    }
    return { signal, min, mean: sum, max, count }
  })
  return { at, bucketMs: grid.bucketMs, columns }
}
