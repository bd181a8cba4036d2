import { chmodSync, mkdirSync, rmSync, writeFileSync } from 'node:fs'
import { join } from 'node:path'
import Database from 'libsql'
import { SCHEMA, SCHEMA_VERSION } from './schema.ts'

/**
 * Small transactional rows (counters, alarms, journal) in SQLite. Write-ahead log with synchronous = NORMAL:
 * what was committed survives the death of the process, and no commit waits for the disk.
 */
export interface State {
  database: Database.Database
  /** Where it lies; other small files may lie beside it. */
  folder: string
  /** Runs `task` in one transaction; a failure (disk full) is counted, never thrown. Returns whether it held. */
  write(task: () => void): boolean
  /** Writes that could not be stored since start, and whether the newest is one of them. */
  failures(): { count: number; last: string | null; isFailing: boolean }
  close(): void
}

/** A sentence for the person who starts the server; main prints it and exits. */
export class StartRefused extends Error {
  override name = 'StartRefused'
}

/** @throws {StartRefused} when the folder cannot be written or another server owns it. */
export function openState(folder: string): State {
  checkWritable(folder)
  closeToOthers(folder)
  const release = lock(folder)
  const database = new Database(join(folder, 'state.db'))
  // Hashes of passwords are nobody else's to read; the files beside it take its mode over.
  for (const file of ['state.db', 'lock.db']) chmodSync(join(folder, file), 0o600)
  database.pragma('journal_mode = WAL')
  database.pragma('synchronous = NORMAL')
  try {
    prepare(database)
  } catch (error) {
    database.close()
    release()
    throw error
  }
  let count = 0
  let last: string | null = null
  let isFailing = false
  return {
    database,
    folder,
    write(task) {
      try {
        inTransaction(database, task)
        isFailing = false
        return true
      } catch (error) {
        count++
        isFailing = true
        last = reasonOf(error)
        return false
      }
    },
    failures: () => ({ count, last, isFailing }),
    close() {
      database.close()
      release()
    },
  }
}

/** @throws what the database or `task` threw; a full disk may have ended the transaction already. */
function inTransaction(database: Database.Database, task: () => void): void {
  database.exec('BEGIN IMMEDIATE')
  try {
    task()
    database.exec('COMMIT')
  } catch (error) {
    if (database.inTransaction) database.exec('ROLLBACK')
    throw error
  }
}

function checkWritable(folder: string): void {
  const probe = join(folder, `.write-test-${process.pid}`)
  try {
    mkdirSync(folder, { recursive: true, mode: 0o700 })
    writeFileSync(probe, '')
    rmSync(probe)
  } catch (error) {
    throw new StartRefused(
      `The data folder ${folder} cannot be written: ${reasonOf(error)}. Choose another with --data.`,
    )
  }
}

/** History and journal are nobody else's to read, nor the lock to hold; a folder of another account stays as it is. */
function closeToOthers(folder: string): void {
  try {
    chmodSync(folder, 0o700)
  } catch {
    // What this process may not change was arranged by whoever owns it.
  }
}

/** Held by an open exclusive transaction, so it goes with the process, however that ends. */
function lock(folder: string): () => void {
  const database = new Database(join(folder, 'lock.db'), { timeout: 0 })
  try {
    database.pragma('locking_mode = EXCLUSIVE')
    database.exec('BEGIN EXCLUSIVE')
  } catch {
    database.close()
    throw new StartRefused(
      `Another Headrace server is using the data folder ${folder}. Stop it, or choose another with --data.`,
    )
  }
  return () => {
    // Closing alone would keep the lock until the garbage collector comes by.
    database.exec('ROLLBACK')
    database.pragma('locking_mode = NORMAL')
    database.prepare('SELECT count(*) FROM sqlite_master').get()
    database.close()
  }
}

/** @throws {StartRefused} for a file of another version. */
function prepare(database: Database.Database): void {
  const { user_version } = database.prepare('PRAGMA user_version').get() as { user_version: number }
  if (user_version === SCHEMA_VERSION) return
  if (user_version !== 0)
    throw new StartRefused(
      `The data folder was written by ${user_version > SCHEMA_VERSION ? 'a newer' : 'another'} Headrace. Use that one, or choose another folder with --data.`,
    )
  database.exec(`BEGIN; ${SCHEMA}; PRAGMA user_version = ${SCHEMA_VERSION}; COMMIT`)
}

function reasonOf(error: unknown): string {
  return error instanceof Error ? error.message : String(error)
}
