import type { DuckDBConnection, DuckDBValue } from '@duckdb/node-api'

/** Rows of a query as plain objects; numbers as doubles, since the SQL casts them so. */
export async function rowsOf<T>(
  connection: DuckDBConnection,
  sql: string,
  values: DuckDBValue[] = [],
): Promise<T[]> {
  const reader = await connection.runAndReadAll(sql, values)
  return reader.getRowObjectsJS() as T[]
}

/** Runs `task` in one transaction; rolled back when it throws. */
export async function inTransaction(connection: DuckDBConnection, task: () => Promise<void>): Promise<void> {
  await connection.run('BEGIN')
  try {
    await task()
    await connection.run('COMMIT')
  } catch (error) {
    await connection.run('ROLLBACK').catch(() => {})
    throw error
  }
}

/** A text inside SQL; for file names of our own only. */
export function quoted(text: string): string {
  return `'${text.replaceAll("'", "''")}'`
}
