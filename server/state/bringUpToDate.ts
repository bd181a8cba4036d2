import { chmodSync, rmSync } from 'node:fs'
import type Database from 'libsql'
import { type Layout, stepsFrom } from '../layout.ts'

/**
 * Makes the tables of a new file, or brings those of an earlier release up to date in one transaction; a copy of the file as it
 * was is kept beside it. Whatever fails, the file is as it was.
 *
 * @throws {Error} with one sentence for whoever starts the server.
 */
export function bringUpToDate(database: Database.Database, file: string, layout: Layout): void {
  const { version, tables } = layout
  const found = versionOf(database, file)
  if (found === version) return
  if (found === 0) {
    database.exec(transaction(tables, version))
    return
  }
  const steps = stepsFrom(found, layout)
  if (!steps)
    throw new Error(
      `The data folder was written by ${found > version ? 'a newer' : 'another'} Headrace. Use that one, or choose another folder with --data.`,
    )
  const copy = `${file}.version-${found}`
  try {
    keepCopy(database, copy)
    database.exec(transaction(steps.join(';\n'), version))
  } catch (error) {
    if (database.inTransaction) database.exec('ROLLBACK')
    throw new Error(
      `${file} could not be brought from version ${found} to ${version}: ${reasonOf(error)}. It is as it was. Use the Headrace that wrote it, or choose another folder with --data.`,
    )
  }
}

function versionOf(database: Database.Database, file: string): number {
  try {
    return (database.prepare('PRAGMA user_version').get() as { user_version: number }).user_version
  } catch (error) {
    throw new Error(
      `${file} cannot be read: ${reasonOf(error)}. Restore it from a backup, or choose another folder with --data.`,
    )
  }
}

function transaction(sql: string, version: number): string {
  return `BEGIN IMMEDIATE; ${sql}; PRAGMA user_version = ${version}; COMMIT`
}

/** In the place of one that a failed attempt left. */
function keepCopy(database: Database.Database, copy: string): void {
  rmSync(copy, { force: true })
  database.prepare('VACUUM INTO ?').run(copy)
  chmodSync(copy, 0o600)
}

export function reasonOf(error: unknown): string {
  return error instanceof Error ? error.message : String(error)
}
