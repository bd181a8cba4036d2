import type { DuckDBConnection, DuckDBDataChunk } from '@duckdb/node-api'
import { addShare, createEnvelope } from '../../envelope.ts'
import type { Answer } from './protocol.ts'
import { type RangeSource, rangeSql } from './rangeSql.ts'

/**
 * Runs one query and gathers its rows into envelopes.
 *
 * @throws when the engine refuses, or when it takes longer than `timeoutMs`.
 */
export async function readRange(
  reader: DuckDBConnection,
  source: RangeSource,
  timeoutMs: number,
): Promise<Answer> {
  const envelopes = source.signals.map(() => createEnvelope(source.grid.length))
  let through = 0
  let isLate = false
  // more than once: the engine forgets an interruption that comes before the query has begun
  const timer = setInterval(() => {
    isLate = true
    reader.interrupt()
  }, timeoutMs)
  try {
    const result = await reader.run(rangeSql(source))
    for (const chunk of await result.fetchAllChunks()) {
      const [place, bucket, min, max, sum, count] = columnsOf(chunk)
      for (let i = 0; i < chunk.rowCount; i++) {
        const envelope = envelopes[place![i]!]
        if (!envelope) through = sum![i]!
        else
          addShare(envelope, bucket![i]!, { min: min![i]!, max: max![i]!, sum: sum![i]!, count: count![i]! })
      }
    }
  } catch (error) {
    if (!isLate) throw error
    throw new Error(
      `the query was interrupted after ${timeoutMs / 1_000} s; ask for a shorter range or fewer signals`,
    )
  } finally {
    clearInterval(timer)
  }
  return { grid: source.grid, envelopes, through }
}

function columnsOf(chunk: DuckDBDataChunk): number[][] {
  return Array.from({ length: chunk.columnCount }, (_, i) => chunk.getColumnValues(i) as number[])
}
