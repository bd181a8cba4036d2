import { copyFileSync, existsSync, renameSync, statSync } from 'node:fs'
import { dirname, join } from 'node:path'
import { type DuckDBConnection, DuckDBInstance } from '@duckdb/node-api'
import { type Layout, stepsFrom } from '../../../layout.ts'

export interface DatabaseLimits {
  /** Of the engine's buffers; the process needs about 100 MB more [MB]. */
  memoryMb: number
  threads: number
  /** For sorting what does not fit into memory [MB]. */
  temporaryMb: number
  /** The journal is folded into the file when it has grown to this [MB]. */
  journalMb: number
}

/** The open file: one connection that writes, one that reads, one for sealing. */
export interface Database {
  writer: DuckDBConnection
  reader: DuckDBConnection
  upkeep: DuckDBConnection
  /** What had to be put aside to open it, one sentence each. */
  notices: string[]
  /** Of the file and its journal. */
  bytes(): number
  journalBytes(): number
  close(): void
}

/** The folder belongs to another process: waiting does not help. */
export class FolderInUse extends Error {
  override name = 'FolderInUse'
}

/** Rows of the days that are not sealed yet. */
export const RECENT_FILE = 'recent.duckdb'

const FORMAT = 2
/** Hours of signals that were replaced since they were sealed (struck.ts). */
const STRUCK = 'CREATE TABLE struck (names VARCHAR[], from_ms BIGINT, to_ms BIGINT, serial INTEGER);'
/** Whoever raises the format adds the step from the one before; sealed files stay as they are and must be read as they are. */
const LAYOUT: Layout = {
  version: FORMAT,
  tables: `
    CREATE TABLE hot (signal INTEGER, at_ms BIGINT, value DOUBLE, quality UTINYINT, commit_number INTEGER);
    CREATE TABLE signal (id INTEGER, name VARCHAR);
    ${STRUCK}
    CREATE TABLE progress (commit_number INTEGER, format INTEGER);
    INSERT INTO progress VALUES (0, ${FORMAT})`,
  steps: { 1: STRUCK },
}

/**
 * Opens the hot table's file, or makes it. A journal that cannot be read back, or a file that is damaged, is
 * renamed and kept for whoever wants to look into it, and the store goes on without: a server that cannot start
 * loses more than the last seconds.
 *
 * @throws {FolderInUse} when another process has it open.
 */
export async function openDatabase(
  folder: string,
  limits: DatabaseLimits,
  layout = LAYOUT,
): Promise<Database> {
  const path = join(folder, RECENT_FILE)
  const notices: string[] = []
  for (;;) {
    try {
      return { ...(await connect(path, limits, layout)), notices }
    } catch (error) {
      const sentence = error instanceof Error ? error.message : String(error)
      if (/could not set lock/i.test(sentence)) throw new FolderInUse(inUse(folder, sentence))
      const aside = putAside(path, sentence)
      if (!aside) throw error
      notices.push(aside)
    }
  }
}

async function connect(path: string, limits: DatabaseLimits, layout: Layout) {
  const instance = await DuckDBInstance.create(path, {
    memory_limit: `${limits.memoryMb}MB`,
    threads: String(limits.threads),
    preserve_insertion_order: 'false',
    temp_directory: join(dirname(path), 'temporary'),
    max_temp_directory_size: `${limits.temporaryMb}MB`,
    checkpoint_threshold: `${limits.journalMb}MB`,
    autoinstall_known_extensions: 'false',
    autoload_known_extensions: 'false',
  })
  try {
    const writer = await instance.connect()
    await bringUpToDate(writer, path, layout)
    const reader = await instance.connect()
    await reader.run('SET parquet_metadata_cache = true')
    const upkeep = await instance.connect()
    const close = () => {
      for (const connection of [writer, reader, upkeep]) connection.closeSync()
      instance.closeSync()
    }
    const journalBytes = () => sizeOf(`${path}.wal`)
    return { writer, reader, upkeep, close, journalBytes, bytes: () => sizeOf(path) + journalBytes() }
  } catch (error) {
    instance.closeSync()
    throw error
  }
}

/**
 * Makes the tables, or brings those of an earlier release up to date in one transaction beside a copy of the file, and folds
 * that into the file at once: a journal must never hold changes of tables.
 */
async function bringUpToDate(writer: DuckDBConnection, path: string, layout: Layout): Promise<void> {
  const found = await formatOf(writer)
  if (found === layout.version) return
  const steps = found === undefined ? [layout.tables] : stepsFrom(found, layout)
  if (!steps)
    throw new Error(
      `the history file is of format ${found}, this program knows format ${layout.version}; nothing was changed in it`,
    )
  if (found !== undefined) {
    await writer.run('CHECKPOINT')
    copyFileSync(path, `${path}.format-${found}`)
    steps.push(`UPDATE progress SET format = ${layout.version}`)
  }
  try {
    await writer.run('BEGIN')
    for (const step of steps) await writer.run(step)
    await writer.run('COMMIT')
  } catch (error) {
    await writer.run('ROLLBACK').catch(() => {})
    const reason = error instanceof Error ? firstLine(error.message) : String(error)
    throw new Error(
      `the history file could not be brought from format ${found} to ${layout.version}: ${reason}; it is as it was`,
    )
  }
  await writer.run('CHECKPOINT')
}

/** Undefined in a new file. */
async function formatOf(writer: DuckDBConnection): Promise<number | undefined> {
  const tables = await writer.runAndReadAll("SELECT 1 FROM duckdb_tables() WHERE table_name = 'progress'")
  if (tables.currentRowCount === 0) return undefined
  return Number((await writer.runAndReadAll('SELECT format FROM progress')).getRows()[0]?.[0])
}

const DAMAGE = /wal file|replay|corrupt|not a valid duckdb|checksum|serializ/i
/** Reading a sound journal back may fail for want of something: then it must stay where it is. */
const WANT = /out of memory|no space|permission|read-only|too many open/i

/** Renames the journal or the file that the error speaks of; undefined when it speaks of neither. */
function putAside(path: string, sentence: string): string | undefined {
  const journal = `${path}.wal`
  const reason = sentence.replaceAll(path, '')
  if (!DAMAGE.test(reason) || WANT.test(reason)) return undefined
  const bad = existsSync(journal) ? journal : path
  if (!existsSync(bad)) return undefined
  const kept = `${bad}.corrupt-${new Date().toISOString().replaceAll(':', '')}`
  const bytes = sizeOf(bad)
  renameSync(bad, kept)
  const lost = bad === journal ? 'the rows since the last checkpoint' : 'all rows that were not sealed yet'
  return `history: ${bad} (${bytes} bytes) could not be read: ${firstLine(sentence)}; it was kept as ${kept}, and ${lost} are missing`
}

function inUse(folder: string, sentence: string): string {
  const holder = /\(PID \d+\)/.exec(sentence)?.[0] ?? ''
  return `history: the folder ${folder} is in use by another process ${holder}; stop that one or choose another data folder`.replace(
    ' ;',
    ';',
  )
}

export function firstLine(sentence: string): string {
  return sentence.split('\n', 1)[0]!.trim()
}

function sizeOf(path: string): number {
  return statSync(path, { throwIfNoEntry: false })?.size ?? 0
}
