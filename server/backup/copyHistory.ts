import { constants, copyFileSync, existsSync, mkdirSync, readdirSync, rmSync, statSync } from 'node:fs'
import { join } from 'node:path'
import { setTimeout as pause } from 'node:timers/promises'
import { openDatabase, RECENT_FILE } from '../history/stores/embedded/database.ts'
import { TIERS } from '../history/stores/embedded/sealedFiles.ts'
import { parseSegmentName } from '../history/stores/embedded/segments.ts'

/** A copy is begun anew so often, while the store folds its journal in or merges files. */
const ATTEMPTS = 100
const PAUSE_MS = 200
/** More than the longest step of the clock of a usual file system: 10 ms. */
const TICK_MS = 11
const LIMITS = { memoryMb: 128, threads: 1, temporaryMb: 1024, journalMb: 16 }

/**
 * Copies the history of a folder, whether a server writes to it or not: first the recent rows, then the sealed files. What is
 * sealed or merged in between is then there twice, which the store sorts out as after the death of a server (segments.ts).
 *
 * @throws {Error} where the files do not stand still for long enough, or the disk refuses.
 */
export async function copyHistory(from: string, to: string): Promise<void> {
  if (!existsSync(from)) return
  mkdirSync(to, { recursive: true })
  for (let attempt = 0; attempt < ATTEMPTS; attempt++) {
    const before = new Set([...mergedIn(from), ...mergedIn(to)])
    if (existsSync(join(from, RECENT_FILE))) await copyRecent(from, to)
    // The file of hours is the last of a day to come and says that the others are there: so it is copied first.
    for (const tier of TIERS.toReversed()) await copyTier(join(from, tier), join(to, tier))
    if (mergedIn(to).every((path) => before.has(path))) return
  }
  throw new Error(`${from} did not stand still for long enough to be copied; try again`)
}

/**
 * Files of months and years. One that came since the recent rows were copied may hold some of them, sealed and merged meanwhile, and
 * does not say which: then both are copied once more.
 */
function mergedIn(folder: string): string[] {
  const isMerged = (name: string) => parseSegmentName(name)?.span !== 'day'
  return TIERS.flatMap((tier) =>
    sealedIn(join(folder, tier))
      .filter(isMerged)
      .map((name) => join(tier, name)),
  )
}

/** The journal is folded in at once, so that what is kept is one sound file. */
async function copyRecent(from: string, to: string): Promise<void> {
  for (let attempt = 0; attempt < ATTEMPTS; attempt++) {
    if (copyPair(join(from, RECENT_FILE), join(to, RECENT_FILE))) {
      const database = await openDatabase(to, LIMITS)
      await database.writer.run('CHECKPOINT')
      database.close()
      rmSync(join(to, 'temporary'), { recursive: true, force: true })
      if (database.notices.length === 0) return
      for (const name of readdirSync(to)) rmSync(join(to, name))
    }
    await pause(PAUSE_MS)
  }
  throw new Error(`${join(from, RECENT_FILE)} did not stand still for long enough to be copied; try again`)
}

/**
 * The file changes only when its journal is folded into it; in between the journal is added to. So two copies belong together
 * where the file was the same before and after; a journal that was cut short counts up to its last whole commit.
 */
function copyPair(from: string, to: string): boolean {
  const before = stampOf(from)
  // two changes within one tick of the file system's clock have the same time, and would be taken for none
  if (before === undefined || Date.now() - statSync(from).mtimeMs < TICK_MS) return false
  copy(from, to)
  rmSync(`${to}.wal`, { force: true })
  const hasJournal = existsSync(`${from}.wal`)
  if (hasJournal && !copyIfThere(`${from}.wal`, `${to}.wal`)) return false
  return stampOf(from) === before
}

/** Of the file and of the journal that belongs to it; undefined while the one is folded into the other. */
function stampOf(file: string): string | undefined {
  const of = (path: string) => statSync(path, { bigint: true, throwIfNoEntry: false })
  if (of(`${file}.wal.checkpoint`) || of(`${file}.wal.recovery`)) return undefined
  const one = of(file)
  return one && `${one.ino} ${one.mtimeNs} ${one.size} ${of(`${file}.wal`)?.ino}`
}

/** Sealed files never change; one that has gone was merged into one that came. */
async function copyTier(from: string, to: string): Promise<void> {
  mkdirSync(to, { recursive: true })
  const done = new Set<string>()
  for (let attempt = 0; attempt < ATTEMPTS; attempt++) {
    const missing = sealedIn(from).filter((name) => !done.has(name))
    if (missing.length === 0) return
    for (const name of missing) if (copyIfThere(join(from, name), join(to, name))) done.add(name)
  }
  throw new Error(`${from} did not stand still for long enough to be copied; try again`)
}

function sealedIn(folder: string): string[] {
  return existsSync(folder) ? readdirSync(folder).filter((name) => name.endsWith('.parquet')) : []
}

function copyIfThere(from: string, to: string): boolean {
  try {
    copy(from, to)
    return true
  } catch (error) {
    if ((error as NodeJS.ErrnoException).code === 'ENOENT') return false
    throw error
  }
}

/** Without taking room, where the file system can. */
function copy(from: string, to: string): void {
  copyFileSync(from, to, constants.COPYFILE_FICLONE)
}
