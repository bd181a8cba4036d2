/**
 * Columns of a trend in a ring buffer: one row per bucket, the oldest row goes when it is full. A figure has
 * the smallest, the mean and the largest value per bucket, so that a spike stays visible however wide the span.
 */

/** In a column: no sample fell into this bucket. The line is drawn through if the gap is short. */
export const NO_SAMPLE = Number.NaN
/** In a column: a value was due and could not be given. The line always breaks here. */
export const NOT_GIVEN = Number.POSITIVE_INFINITY

export interface TrendColumns {
  at: number[]
  min: number[]
  mean: number[]
  max: number[]
}

interface Ring {
  min: Float64Array
  mean: Float64Array
  max: Float64Array
  /** Samples behind the mean. */
  count: Uint32Array
}

export interface Sample {
  min: number
  mean: number
  max: number
}

export interface TrendRowsOptions {
  ids: string[]
  /** Width of one row [ms]. */
  bucketMs: number
  /** Rows kept. */
  capacity: number
}

/**
 * @throws {RangeError} when capacity or bucket is not positive, or a figure is added that is not in `ids`:
 * programming errors.
 */
export function createTrendRows({ ids, bucketMs, capacity }: TrendRowsOptions) {
  if (!(capacity >= 1) || !(bucketMs > 0))
    throw new RangeError(`trendRows: capacity ${capacity} and bucket ${bucketMs} ms must be positive`)
  const at = new Float64Array(capacity)
  const rings = new Map(ids.map((id) => [id, createRing(capacity)]))
  let start = 0
  let length = 0
  let late = 0

  const slot = (row: number) => (start + row) % capacity
  const lastAt = () => (length === 0 ? Number.NEGATIVE_INFINITY : at[slot(length - 1)]!)

  function pushRow(rowAt: number): number {
    if (length === capacity) start = (start + 1) % capacity
    else length++
    const index = slot(length - 1)
    at[index] = rowAt
    for (const ring of rings.values()) clearRow(ring, index)
    return index
  }

  /** Slot of the row for this time, made if it is newer than all; null if it is older and not kept. */
  function rowFor(time: number): number | null {
    const bucket = Math.floor(time / bucketMs) * bucketMs
    if (bucket > lastAt()) {
      // A row without samples marks the hole, so that a line can break there.
      if (length > 0 && bucket - lastAt() > 1.5 * bucketMs) pushRow(lastAt() + bucketMs)
      return pushRow(bucket)
    }
    for (let row = length - 1; row >= 0 && at[slot(row)]! >= bucket; row--)
      if (at[slot(row)] === bucket) return slot(row)
    return null
  }

  return {
    bucketMs,
    /** Merges a sample into its bucket; null says that the value could not be given. */
    add(id: string, time: number, sample: Sample | null): void {
      const ring = rings.get(id)
      if (!ring) throw new RangeError(`trendRows: figure "${id}" has no column`)
      const index = rowFor(time)
      if (index === null) late++
      else mergeRow(ring, index, sample)
    },
    /** A copy of the rows from `from` on, oldest first. */
    columns(id: string, from = Number.NEGATIVE_INFINITY): TrendColumns {
      const ring = rings.get(id)
      const columns: TrendColumns = { at: [], min: [], mean: [], max: [] }
      for (let row = 0; row < length; row++) {
        const index = slot(row)
        if (at[index]! < from) continue
        columns.at.push(at[index]!)
        columns.min.push(ring?.min[index] ?? NO_SAMPLE)
        columns.mean.push(ring?.mean[index] ?? NO_SAMPLE)
        columns.max.push(ring?.max[index] ?? NO_SAMPLE)
      }
      return columns
    },
    get length() {
      return length
    },
    /** Samples older than every kept row, or between two rows: not drawn. */
    get late() {
      return late
    },
  }
}

export type TrendRows = ReturnType<typeof createTrendRows>

function createRing(capacity: number): Ring {
  return {
    min: new Float64Array(capacity),
    mean: new Float64Array(capacity),
    max: new Float64Array(capacity),
    count: new Uint32Array(capacity),
  }
}

function clearRow(ring: Ring, index: number): void {
  ring.min[index] = ring.mean[index] = ring.max[index] = NO_SAMPLE
  ring.count[index] = 0
}

function mergeRow(ring: Ring, index: number, sample: Sample | null): void {
  const count = ring.count[index]!
  if (sample === null) {
    if (count === 0) ring.min[index] = ring.mean[index] = ring.max[index] = NOT_GIVEN
    return
  }
  ring.min[index] = count === 0 ? sample.min : Math.min(ring.min[index]!, sample.min)
  ring.max[index] = count === 0 ? sample.max : Math.max(ring.max[index]!, sample.max)
  ring.mean[index] = count === 0 ? sample.mean : (ring.mean[index]! * count + sample.mean) / (count + 1)
  ring.count[index] = count + 1
}
