import { existsSync, mkdirSync, renameSync, rmSync } from 'node:fs'
import { join } from 'node:path'
import { type DuckDBConnection, DuckDBInstance } from '@duckdb/node-api'

export interface Database {
  folder: string
  /** For appends and sealing. */
  writer: DuckDBConnection
  /** A connection of its own for a query; the caller closes it. */
  connect(): Promise<DuckDBConnection>
  /** What had to be set aside on opening, for people. */
  note?: string
  close(): void
}

/** The file is in use by another process. */
export class HistoryLocked extends Error {
  override name = 'HistoryLocked'
}

const MEMORY_LIMIT = '256MB'
/** The log is written into the main file when it grows beyond this. */
const CHECKPOINT_AT = '16MB'

/** No keys and no indexes on samples: duplicates are dropped before, and an index costs and can break replay. */
const TABLES = `
  CREATE TABLE IF NOT EXISTS signal (id INTEGER, name VARCHAR);
  CREATE TABLE IF NOT EXISTS sample (signal INTEGER, instant BIGINT, value DOUBLE, quality UTINYINT);
  CREATE TABLE IF NOT EXISTS hour (signal INTEGER, instant BIGINT, low DOUBLE, high DOUBLE, total DOUBLE, count UINTEGER);
  CREATE TABLE IF NOT EXISTS sealed (day INTEGER, raw VARCHAR, minute VARCHAR);
  CREATE TABLE IF NOT EXISTS progress (session BIGINT, batch BIGINT);`

/** Opens the store; a log that cannot be replayed is set aside rather than keeping the server from starting. */
export async function openDatabase(folder: string): Promise<Database> {
  mkdirSync(join(folder, 'sealed'), { recursive: true })
  const file = join(folder, 'hot.duckdb')
  try {
    return await connect(folder, file)
  } catch (error) {
    const message = error instanceof Error ? error.message : String(error)
    if (/set lock|being used by another/i.test(message))
      throw new HistoryLocked(`another process uses ${file}`)
    const log = `${file}.wal`
    if (!existsSync(log)) throw error
    const aside = `${log}.corrupt-${Date.now()}`
    renameSync(log, aside)
    const database = await connect(folder, file)
    return {
      ...database,
      note: `the last minutes before the stop could not be read back and lie in ${aside}`,
    }
  }
}

async function connect(folder: string, file: string): Promise<Database> {
  const scratch = join(folder, 'scratch')
  rmSync(scratch, { recursive: true, force: true })
  const instance = await DuckDBInstance.create(file, {
    memory_limit: MEMORY_LIMIT,
    threads: '2',
    preserve_insertion_order: 'false',
    temp_directory: scratch,
    max_temp_directory_size: '1GB',
    checkpoint_threshold: CHECKPOINT_AT,
  })
  try {
    const writer = await instance.connect()
    await writer.run(TABLES)
    // No change of the tables may wait in the log: replaying one has made files unopenable.
    await writer.run('CHECKPOINT')
    return {
      folder,
      writer,
      connect: () => instance.connect(),
      close() {
        writer.closeSync()
        instance.closeSync()
      },
    }
  } catch (error) {
    instance.closeSync()
    throw error
  }
}
