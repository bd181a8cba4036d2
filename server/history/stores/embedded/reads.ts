import type { DuckDBConnection, DuckDBDataChunk } from '@duckdb/node-api'
import { addShare, createEnvelopes } from '../../envelope.ts'
import { DAY_MS } from '../../grid.ts'
import { type SampleRow, samplesReply } from '../../samples.ts'
import type { SamplesQuery, SamplesReply } from '../../store.ts'
import type { Answer, Struck } from './protocol.ts'
import { type RangeSource, rangeSql } from './rangeSql.ts'
import { type Leaving, notLeaving } from './sealedFiles.ts'
import type { Segment } from './segments.ts'
import { sealedFiles, sqlList } from './sqlText.ts'
import { groupSealed } from './struck.ts'

/**
 * Runs one query and gathers its rows into envelopes.
 *
 * @throws when the engine refuses, or when it takes longer than `timeoutMs`.
 */
export async function readRange(
  reader: DuckDBConnection,
  source: RangeSource & { take: (bytes: number) => ArrayBuffer },
  timeoutMs: number,
): Promise<Answer> {
  const envelopes = createEnvelopes(source.signals.length, source.grid.length, source.take)
  let through = 0
  for (const chunk of await runWithin(reader, rangeSql(source), timeoutMs)) {
    const [place, bucket, min, max, sum, count] = columnsOf(chunk)
    for (let i = 0; i < chunk.rowCount; i++) {
      const envelope = envelopes[place![i]!]
      if (!envelope) through = sum![i]!
      else addShare(envelope, bucket![i]!, { min: min![i]!, max: max![i]!, sum: sum![i]!, count: count![i]! })
    }
  }
  return { grid: source.grid, envelopes, through }
}

export interface SamplesSource {
  query: SamplesQuery
  /** Number of each signal, each once, in the signal table; −1 for one that is not in it. */
  ids: readonly number[]
  segments: readonly Segment[]
  leaving: readonly Leaving[]
  struck: readonly Struck[]
}

/** @throws when the engine refuses, or when it takes longer than `timeoutMs`. */
export async function readSamples(
  reader: DuckDBConnection,
  source: SamplesSource,
  timeoutMs: number,
): Promise<SamplesReply> {
  const rows: SampleRow[] = []
  for (const chunk of await runWithin(reader, samplesSql(source), timeoutMs)) {
    const [place, at, value, quality] = columnsOf(chunk)
    for (let i = 0; i < chunk.rowCount; i++)
      rows.push({ place: place![i]!, at: at![i]!, value: value![i] ?? Number.NaN, quality: quality![i]! })
  }
  return samplesReply(rows, source.query)
}

/** Rows (signal's place, time, value, quality): the newest before the span, then those within it. */
function samplesSql({ query, ids, segments, leaving, struck }: SamplesSource): string {
  const { from, to, lead, limit } = query
  const names = sqlList([...new Set(query.signals)])
  const start = from - lead
  const touched = segments.filter(
    (one) => one.tier === 'raw' && one.firstDay * DAY_MS < to && (one.lastDay + 1) * DAY_MS > start,
  )
  const known = ids.length > 0 ? ids : [-1]
  const columns = 'at_ms::DOUBLE AS moment, value, quality::INTEGER AS quality'
  const between = `at_ms >= ${start} AND at_ms < ${to}`
  const hot = `SELECT (list_position(${sqlList(known)}, signal) - 1)::INTEGER AS place, ${columns}
    FROM hot WHERE signal IN (${known.join(', ')}) AND ${between} ${notLeaving(leaving)}`
  const sealed = groupSealed(touched, struck, query.signals).map(
    ({ paths, except }) => `SELECT (list_position(${names}, signal) - 1)::INTEGER AS place, ${columns}
    FROM ${sealedFiles(paths)} WHERE list_contains(${names}, signal) AND ${between} ${except}`,
  )
  return `WITH samples AS (${[hot, ...sealed].join(' UNION ALL ')})
    SELECT place, moment, value, quality FROM (
      SELECT place, max(moment) AS moment, arg_max(value, moment) AS value, arg_max(quality, moment) AS quality
        FROM samples WHERE moment < ${from} GROUP BY place
      UNION ALL SELECT place, moment, value, quality FROM samples WHERE moment >= ${from}
    ) ORDER BY moment, place LIMIT ${limit + 1}`
}

/** @throws when the engine refuses, or when it takes longer than `timeoutMs`. */
async function runWithin(
  reader: DuckDBConnection,
  sql: string,
  timeoutMs: number,
): Promise<DuckDBDataChunk[]> {
  let isLate = false
  // more than once: the engine forgets an interruption that comes before the query has begun
  const timer = setInterval(() => {
    isLate = true
    reader.interrupt()
  }, timeoutMs)
  try {
    const result = await reader.run(sql)
    return await result.fetchAllChunks()
  } catch (error) {
    if (!isLate) throw error
    throw new Error(
      `the query was interrupted after ${timeoutMs / 1_000} s; ask for a shorter range or fewer signals`,
    )
  } finally {
    clearInterval(timer)
  }
}

function columnsOf(chunk: DuckDBDataChunk): number[][] {
  return Array.from({ length: chunk.columnCount }, (_, i) => chunk.getColumnValues(i) as number[])
}
