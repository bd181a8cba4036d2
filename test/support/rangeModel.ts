import type { RangeReply, SampleBatch } from '../../server/history/store.ts'

export interface Sample {
  signal: string
  at: number
  value: number
  quality: number
}

export function batchOf(samples: readonly Sample[]): SampleBatch {
  return {
    signals: samples.map((one) => one.signal),
    at: Float64Array.from(samples, (one) => one.at),
    value: Float64Array.from(samples, (one) => one.value),
    quality: Uint8Array.from(samples, (one) => one.quality),
  }
}

/** One column as a person would work it out from the list of samples, for the buckets of a reply. */
export function columnByHand(
  samples: readonly Sample[],
  signal: string,
  { reply, from, to }: { reply: RangeReply; from: number; to: number },
): { min: number; mean: number; max: number; count: number }[] {
  const good = samples.filter(
    (one) =>
      one.signal === signal && one.quality < 2 && Number.isFinite(one.value) && one.at >= from && one.at < to,
  )
  return [...reply.at].map((start) => {
    const values = good
      .filter((one) => one.at >= start && one.at < start + reply.bucketMs)
      .map((one) => one.value)
    const count = values.length
    if (count === 0) return { min: Number.NaN, mean: Number.NaN, max: Number.NaN, count }
    const mean = values.reduce((sum, value) => sum + value, 0) / count
    return { min: Math.min(...values), mean, max: Math.max(...values), count }
  })
}
