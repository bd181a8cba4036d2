import type { DuckDBConnection } from '@duckdb/node-api'
import { DAY_MS } from '../../grid.ts'
import { type SampleRow, samplesReply } from '../../samples.ts'
import type { SamplesQuery, SamplesReply } from '../../store.ts'
import { columnsOf, runWithin } from './runWithin.ts'
import type { Segment } from './segments.ts'
import { type Leaving, notLeaving } from './shelf.ts'
import { sealedFiles, sqlList } from './sqlText.ts'

export interface SamplesSource {
  query: SamplesQuery
  /** Number of each signal, each once, in the signal table; −1 for one that is not in it. */
  ids: readonly number[]
  segments: readonly Segment[]
  leaving: readonly Leaving[]
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
function samplesSql({ query, ids, segments, leaving }: SamplesSource): string {
  const { from, to, lead, limit } = query
  const names = sqlList([...new Set(query.signals)])
  const start = from - lead
  const paths = segments
    .filter((one) => one.tier === 'raw' && one.firstDay * DAY_MS < to && (one.lastDay + 1) * DAY_MS > start)
    .map((one) => one.path)
  const known = ids.length > 0 ? ids : [-1]
  const columns = 'at_ms::DOUBLE AS moment, value, quality::INTEGER AS quality'
  const between = `at_ms >= ${start} AND at_ms < ${to}`
  const hot = `SELECT (list_position(${sqlList(known)}, signal) - 1)::INTEGER AS place, ${columns}
    FROM hot WHERE signal IN (${known.join(', ')}) AND ${between} ${notLeaving(leaving)}`
  const sealed = `SELECT (list_position(${names}, signal) - 1)::INTEGER AS place, ${columns}
    FROM ${sealedFiles(paths)} WHERE list_contains(${names}, signal) AND ${between}`
  return `WITH samples AS (${paths.length > 0 ? `${hot} UNION ALL ${sealed}` : hot})
    SELECT place, moment, value, quality FROM (
      SELECT place, max(moment) AS moment, arg_max(value, moment) AS value, arg_max(quality, moment) AS quality
        FROM samples WHERE moment < ${from} GROUP BY place
      UNION ALL SELECT place, moment, value, quality FROM samples WHERE moment >= ${from}
    ) ORDER BY moment, place LIMIT ${limit + 1}`
}
