import type { Turns } from '../../../turns.ts'
import { DAY_MS } from '../../grid.ts'
import type { Catalogue } from './catalogue.ts'
import { findMerge, merge } from './compaction.ts'
import { removeDamaged } from './damage.ts'
import { type Database, firstLine } from './database.ts'
import type { EngineOptions } from './protocol.ts'
import { clockFault, findExpired, findOversize } from './retention.ts'
import { makeMissingRollups } from './rollups.ts'
import type { Leaving, SealedFiles } from './sealedFiles.ts'
import { cutsOfDay, sealDay } from './sealing.ts'
import { forgetStruck } from './struck.ts'

export interface Upkeep {
  database: Database
  sealed: SealedFiles
  catalogue: Catalogue
  options: EngineOptions
  lastCommit(): number
  /** Told of what a person should know of. */
  onNotice(sentence: string): void
  /** Runs a task when no commit is under way, and holds commits until it is done. */
  writes: Pick<Turns, 'take'>
}

/** So many late rows are sealed at once; fewer wait for the next day that is sealed anyway. */
const LATE_ROWS = 100_000

/**
 * One round: deletes what is sealed already, seals the days that are over, makes lost roll-ups anew, merges files
 * of past months, removes what is older than its retention. Each step is safe to be killed in and to be done again.
 *
 * @param now Wall clock [ms UTC].
 * @returns Why something of it waits or failed, in one sentence.
 */
export async function maintain(upkeep: Upkeep, now: number): Promise<string | undefined> {
  const { sealed, options } = upkeep
  const fault = clockFault(sealed.segments(), now)
  if (fault) return fault
  try {
    await deleteSealed(upkeep)
    for (const day of await daysToSeal(upkeep, now)) await seal(upkeep, day)
    await mergeAll(upkeep, now)
    const expired = findExpired(sealed.segments(), now, options.retentionDays)
    sealed.replace(expired, [])
    await sealed.discard(expired)
    await removeOversize(upkeep)
    if (sealed.struck.length > 0) await upkeep.writes.take(() => forgetStruck(upkeep.database.writer, sealed))
    return undefined
  } catch (error) {
    const sentence = firstLine(error instanceof Error ? error.message : String(error))
    return `history: sealing past days failed: ${sentence}; their rows stay in the hot table and it is tried again`
  }
}

async function removeOversize({ sealed, database, options, onNotice }: Upkeep): Promise<void> {
  const excess = database.bytes() + sealed.bytes() - options.largestBytes
  const oversize = findOversize(sealed.segments(), excess)
  const newest = oversize.reduce((day, one) => Math.max(day, one.lastDay), 0)
  if (oversize.length === 0) return
  sealed.replace(oversize, [])
  await sealed.discard(oversize)
  const date = new Date(newest * DAY_MS).toISOString().slice(0, 10)
  const size = Math.round(options.largestBytes / 1e9)
  onNotice(
    `history: it had grown beyond ${size} GB: what was finest until ${date} was removed (--history-size)`,
  )
}

async function mergeAll({ sealed, database, onNotice }: Upkeep, now: number): Promise<void> {
  const healing = { sealed, connection: database.upkeep, onNotice }
  for (;;) {
    // before each merge: a merged file counts as holding every day that was sealed before it
    await makeMissingRollups(healing)
    const due = findMerge(sealed.segments(), now)
    if (!due) return
    try {
      sealed.replace(due.inputs, [await merge(database.upkeep, sealed, due)])
      await sealed.discard(due.inputs)
    } catch (error) {
      if (!(await removeDamaged(healing, due.inputs, error))) throw error
    }
  }
}

async function seal(upkeep: Upkeep, day: number): Promise<void> {
  const { sealed, database, catalogue, options } = upkeep
  const bounds = { last: upkeep.lastCommit(), limit: options.rowsPerFile }
  for (const through of await cutsOfDay(database.upkeep, day, bounds)) {
    const added = await sealDay(database.upkeep, sealed, { day, through, names: catalogue.names() })
    // from here on queries take the rows from the files and pass over those in the hot table
    sealed.replace([], added)
    sealed.leaving.push({ day, through })
    await deleteSealed(upkeep)
  }
}

/** Rows of the hot table that an interrupted run sealed but did not delete. */
export async function findLeaving({
  database,
  sealed,
}: Pick<Upkeep, 'database' | 'sealed'>): Promise<Leaving[]> {
  const hotDays = new Set((await countDays(database, [])).map(({ day }) => day))
  const through = new Map<number, number>()
  for (const { tier, firstDay, through: last } of sealed.segments())
    if (tier === 'raw' && hotDays.has(firstDay))
      through.set(firstDay, Math.max(last, through.get(firstDay) ?? 0))
  return [...through].map(([day, last]) => ({ day, through: last }))
}

/** Deletes them, once no query that began before counts on them. */
async function deleteSealed({ database, sealed, writes }: Upkeep): Promise<void> {
  if (sealed.leaving.length === 0) return
  await sealed.readersGone()
  const done = [...sealed.leaving]
  await writes.take(async () => {
    for (const { day, through } of done)
      await database.writer.run(
        `DELETE FROM hot WHERE at_ms >= ${day * DAY_MS} AND at_ms < ${(day + 1) * DAY_MS} AND commit_number <= ${through}`,
      )
    await database.writer.run('CHECKPOINT')
  })
  sealed.leaving = sealed.leaving.filter((one) => !done.includes(one))
}

async function daysToSeal({ database, sealed, options }: Upkeep, now: number): Promise<number[]> {
  const days = await countDays(database, sealed.leaving)
  const over = days.filter(({ day }) => (day + 1) * DAY_MS + options.sealAfterMs <= now)
  const isLate = (day: number) =>
    sealed.segments().some((one) => one.tier === 'hour' && one.firstDay <= day && one.lastDay >= day)
  const late = over.filter(({ day }) => isLate(day))
  const lateRows = late.reduce((sum, { rows }) => sum + rows, 0)
  return late.length < over.length || lateRows >= LATE_ROWS ? over.map(({ day }) => day) : []
}

/** Lowest commit number among the rows of each day of the hot table. */
export async function firstCommitOfDays({ upkeep }: Database): Promise<Map<number, number>> {
  const found = await upkeep.runAndReadAll(
    `SELECT (at_ms // ${DAY_MS})::INTEGER, min(commit_number)::INTEGER FROM hot GROUP BY 1`,
  )
  return new Map(found.getRows().map(([day, commit]) => [Number(day), Number(commit)]))
}

async function countDays(
  { upkeep }: Database,
  leaving: readonly Leaving[],
): Promise<{ day: number; rows: number }[]> {
  const counted = await upkeep.runAndReadAll(
    `SELECT (at_ms // ${DAY_MS})::INTEGER AS day, count(*)::DOUBLE FROM hot GROUP BY 1 ORDER BY 1`,
  )
  const days = counted.getRows().map(([day, rows]) => ({ day: Number(day), rows: Number(rows) }))
  return days.filter(({ day }) => !leaving.some((one) => one.day === day))
}
