import type { DuckDBConnection } from '@duckdb/node-api'
import { DAY_MS, divideRange, type Grid, type TierName } from '../../grid.ts'
import type { RangeQuery } from '../../store.ts'
import type { Catalogue } from './appendRows.ts'
import type { Database } from './database.ts'
import type { Cells } from './messages.ts'
import { filesSource, type SealedDay, sealedDays } from './sealed.ts'

/** Rows of roll-ups: low, high, total, count; samples are brought into the same columns. */
const SAMPLE_COLUMNS = 'signal, instant, value AS low, value AS high, value AS total, 1 AS count'
const GOOD_SAMPLES = 'quality < 2 AND value IS NOT NULL'

export interface FindContext {
  database: Database
  catalogue: Catalogue
  reader: DuckDBConnection
}

/**
 * Minimum, maximum, sum and count per signal and bucket, from whichever tier has what is needed and no more. One
 * transaction sees the list of sealed days and the hot rows as they belong together, also while a day is sealed.
 */
export async function findRange(
  { database, catalogue, reader }: FindContext,
  query: RangeQuery,
): Promise<{ grid: Grid; cells: Cells }> {
  await reader.run('BEGIN TRANSACTION READ ONLY')
  const days = await sealedDays(reader)
  const grid = divideRange(query, finestTier(days, query))
  const known = query.signals.map((name) => catalogue.idOf(name))
  const ids = known.filter((id) => id !== undefined)
  if (ids.length === 0) return { grid, cells: emptyCells(0) }
  const sql = `
    SELECT signal::INTEGER AS signal, ((instant - ${grid.start}) // ${grid.bucketMs})::INTEGER AS bucket,
      min(low)::DOUBLE AS low, max(high)::DOUBLE AS high, sum(total)::DOUBLE AS total, sum(count)::DOUBLE AS count
    FROM (${sources({ database, days, grid }, ids.join(', ')).join(' UNION ALL ')})
    GROUP BY ALL`
  const found = await reader.runAndReadAll(sql)
  const [signal, bucket, low, high, total, count] = found.getColumnsJS() as number[][]
  const cells = emptyCells(signal?.length ?? 0)
  const placeOf = new Map(known.map((id, place) => [id, place]))
  cells.signal.set((signal ?? []).map((id) => placeOf.get(id)!))
  cells.bucket.set(bucket ?? [])
  cells.min.set(low ?? [])
  cells.max.set(high ?? [])
  cells.sum.set(total ?? [])
  cells.count.set(count ?? [])
  return { grid, cells }
}

function emptyCells(length: number): Cells {
  return {
    signal: new Int32Array(length),
    bucket: new Int32Array(length),
    min: new Float64Array(length),
    max: new Float64Array(length),
    sum: new Float64Array(length),
    count: new Uint32Array(length),
  }
}

/** Samples not sealed yet, and the sealed part from the tier of the grid. */
function sources(
  { database, days, grid }: { database: Database; days: readonly SealedDay[]; grid: Grid },
  ids: string,
): string[] {
  const { from, to, tier } = grid
  const inRange = `signal IN (${ids}) AND instant >= ${from} AND instant < ${to}`
  const hot = `SELECT ${SAMPLE_COLUMNS} FROM sample WHERE ${GOOD_SAMPLES} AND ${inRange}`
  if (tier === 'hour')
    return [hot, `SELECT signal, instant, low, high, total, count FROM hour WHERE ${inRange}`]
  const files = filesSource(database, days, { tier, from, to })
  if (files === undefined) return [hot]
  if (tier === 'minute')
    return [hot, `SELECT signal, instant, low, high, total, count FROM ${files} WHERE ${inRange}`]
  return [hot, `SELECT ${SAMPLE_COLUMNS} FROM ${files} WHERE ${GOOD_SAMPLES} AND ${inRange}`]
}

/** The finest tier that is still kept for every sealed day of the range. */
function finestTier(days: readonly SealedDay[], { from, to }: RangeQuery): TierName {
  const touched = days.filter(({ day }) => (day + 1) * DAY_MS > from && day * DAY_MS < to)
  if (touched.some((one) => one.minute === null)) return 'hour'
  return touched.some((one) => one.raw === null) ? 'minute' : 'raw'
}
