import { join } from 'node:path'
import type { DuckDBConnection } from '@duckdb/node-api'
import { DAY_MS } from '../../grid.ts'
import type { Database } from './database.ts'
import { quoted, rowsOf } from './sql.ts'

/** A day whose samples lie in files of their own. */
export interface SealedDay {
  /** Days since 1970. */
  day: number
  /** File names in the folder `sealed`; null once the tier is no longer kept. */
  raw: string | null
  minute: string | null
}

export function sealedDays(connection: DuckDBConnection): Promise<SealedDay[]> {
  return rowsOf<SealedDay>(connection, 'SELECT day, raw, minute FROM sealed ORDER BY day')
}

export function sealedPath({ folder }: Pick<Database, 'folder'>, file: string): string {
  return join(folder, 'sealed', file)
}

/** SQL source over the files of one tier that touch from … to; undefined when there is none. */
export function filesSource(
  database: Database,
  days: readonly SealedDay[],
  { tier, from, to }: { tier: 'raw' | 'minute'; from: number; to: number },
): string | undefined {
  const files = days
    .filter(({ day }) => (day + 1) * DAY_MS > from && day * DAY_MS < to)
    .flatMap((one) => one[tier] ?? [])
    .map((file) => quoted(sealedPath(database, file)))
  return files.length === 0 ? undefined : `read_parquet([${files.join(', ')}])`
}
