import { chmodSync, existsSync, mkdirSync, rmSync, writeFileSync } from 'node:fs'
import { dirname, join } from 'node:path'
import Database from 'libsql'
import type { Layout } from '../layout.ts'
import { bringUpToDate, reasonOf } from './bringUpToDate.ts'
import { COMMIT_CHECKPOINTS_AT, createCheckpoints } from './checkpoints.ts'
import { PEOPLE_LAYOUT, WATCH_LAYOUT } from './schema.ts'

/**
 * Small transactional rows in SQLite: those of the watch (counters, alarms, journal, messages) in one file, those of
 * people (users, runs, lessons) in another, so that neither process waits for a writer of the other. Write-ahead log with synchronous = NORMAL:
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

export const WATCH_FILE = 'state.db'
export const PEOPLE_FILE = 'people.db'
/** Lies in a folder into which a backup is being restored. */
export const RESTORING_FILE = 'restore-has-not-ended'
const LOCK_FILE = 'lock.db'
/** A reader waits this long for a file that is just being put in order [ms]; it never waits for a writer. */
const READER_PATIENCE_MS = 2000

/** The rows of the watch, and the lock of the folder. @throws {StartRefused} when the folder cannot be written or another server owns it. */
export function openState(folder: string, layout = WATCH_LAYOUT): State {
  checkWritable(folder)
  if (existsSync(join(folder, RESTORING_FILE)))
    throw new StartRefused(
      `A backup was being restored into ${folder} and did not come to its end. Empty the folder, and restore it again.`,
    )
  closeToOthers(folder)
  const release = lock(folder)
  try {
    chmodSync(join(folder, LOCK_FILE), 0o600)
    const state = openRows(join(folder, WATCH_FILE), layout)
    return {
      ...state,
      close() {
        state.close()
        release()
      },
    }
  } catch (error) {
    release()
    throw error
  }
}

/** The rows of people. Whoever opens it belongs to the server that holds the lock. @throws {StartRefused} */
export function openPeople(folder: string): State {
  return openRows(join(folder, PEOPLE_FILE), PEOPLE_LAYOUT)
}

/** The rows of the watch for somebody beside it, who may only look; the file is there already. */
export function readState(folder: string): { database: Database.Database; close(): void } {
  const database = new Database(join(folder, WATCH_FILE), { timeout: READER_PATIENCE_MS })
  database.pragma('query_only = ON')
  return { database, close: () => void database.close() }
}

/** A copy of one of these files as it is now, whoever writes to it. @throws what the disk refuses. */
export function copyRows(from: string, to: string, name: string): void {
  if (!existsSync(join(from, name))) return
  const database = new Database(join(from, name), { timeout: READER_PATIENCE_MS })
  try {
    database.prepare('VACUUM INTO ?').run(join(to, name))
    chmodSync(join(to, name), 0o600)
  } finally {
    database.close()
  }
}

/** @throws {StartRefused} when the file cannot be read, or is of a version that this program does not know. */
function openRows(file: string, layout: Layout): State {
  const database = new Database(file)
  // Hashes of passwords are nobody else's to read; the files beside it take its mode over.
  chmodSync(file, 0o600)
  try {
    bringUpToDate(database, file, layout)
  } catch (error) {
    database.close()
    throw new StartRefused(reasonOf(error))
  }
  database.pragma('journal_mode = WAL')
  database.pragma('synchronous = NORMAL')
  database.pragma(`wal_autocheckpoint = ${COMMIT_CHECKPOINTS_AT}`)
  const checkpoints = createCheckpoints(file)
  let count = 0
  let last: string | null = null
  let isFailing = false
  return {
    database,
    folder: dirname(file),
    write(task) {
      try {
        inTransaction(database, task)
        checkpoints.committed()
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
      checkpoints.close()
      database.close()
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
  const database = new Database(join(folder, LOCK_FILE), { timeout: 0 })
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
