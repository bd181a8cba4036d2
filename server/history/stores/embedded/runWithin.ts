import type { DuckDBConnection, DuckDBDataChunk } from '@duckdb/node-api'

/** @throws when the engine refuses, or when it takes longer than `timeoutMs`. */
export async function runWithin(
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

export function columnsOf(chunk: DuckDBDataChunk): number[][] {
  return Array.from({ length: chunk.columnCount }, (_, i) => chunk.getColumnValues(i) as number[])
}
