import type { DuckDBConnection } from '@duckdb/node-api'
import { addShare, createEnvelope } from '../../envelope.ts'
import type { Answer } from './protocol.ts'
import { type RangeSource, rangeSql } from './rangeSql.ts'
import { columnsOf, runWithin } from './runWithin.ts'

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
