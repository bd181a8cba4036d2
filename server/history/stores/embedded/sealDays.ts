import { closeSync, fsyncSync, openSync, readdirSync, renameSync, rmSync, statSync } from 'node:fs'
import { join } from 'node:path'
import { DAY_MS, HOUR_MS, MINUTE_MS } from '../../grid.ts'
import type { Database } from './database.ts'
import type { Retention } from './messages.ts'
import { filesSource, type SealedDay, sealedDays, sealedPath } from './sealed.ts'
import { inTransaction, quoted, rowsOf } from './sql.ts'

/** Samples may come this late and still be sealed with their day [ms]. */
const GRACE_MS = 15 * MINUTE_MS
/** A day is sealed again when this many of its samples came after it was sealed. */
const LATE_ROWS = 1000
/** Before this the clock of the machine is not to be trusted (2024-01-01): nothing is sealed or deleted. */
const PLAUSIBLE_MS = 1_704_067_200_000

const PARQUET = "(FORMAT parquet, PARQUET_VERSION 'v2', COMPRESSION zstd, ROW_GROUP_SIZE 20480)"

/**
 * Moves completed days (UTC) out of the hot table into files sorted by signal and time, and rolls them up.
 *
 * Order, so that death at any point neither loses nor doubles a row: files under a new name are written, synced and
 * renamed; then one transaction names them in `sealed` and takes the rows out of the hot table. Files that are not
 * named (any more) are deleted by the next run, so that no query that still reads them is disturbed.
 *
 * @returns The days that were sealed, e.g. ["2026-11-24"].
 */
export async function sealDays(database: Database, now: number, retention: Retention): Promise<string[]> {
  if (now < PLAUSIBLE_MS) return []
  const days = await sealedDays(database.writer)
  removeUnnamed(database, days)
  const due = await dueDays(database, now, days)
  for (const day of due)
    await sealDay(
      database,
      day,
      days.find((one) => one.day === day),
    )
  await forget(database, now, retention)
  if (due.length > 0) await database.writer.run('CHECKPOINT')
  return due.map((day) => new Date(day * DAY_MS).toISOString().slice(0, 10))
}

async function dueDays({ writer }: Database, now: number, days: readonly SealedDay[]): Promise<number[]> {
  const rows = await rowsOf<{ day: number; count: number }>(
    writer,
    `SELECT (instant // ${DAY_MS})::INTEGER AS day, count(*)::DOUBLE AS count FROM sample GROUP BY ALL ORDER BY day`,
  )
  const sealed = new Set(days.map((one) => one.day))
  return rows
    .filter(
      ({ day, count }) => (day + 1) * DAY_MS + GRACE_MS <= now && (!sealed.has(day) || count >= LATE_ROWS),
    )
    .map(({ day }) => day)
}

async function sealDay(database: Database, day: number, before: SealedDay | undefined): Promise<void> {
  const { writer } = database
  const inDay = `instant >= ${day * DAY_MS} AND instant < ${(day + 1) * DAY_MS}`
  const range = { from: day * DAY_MS, to: (day + 1) * DAY_MS }
  const old = before && filesSource(database, [before], { tier: 'raw', ...range })
  const rows = `SELECT signal, instant, value, quality FROM sample WHERE ${inDay}${
    old ? ` UNION ALL SELECT signal, instant, value, quality FROM ${old}` : ''
  }`
  const name = `${new Date(day * DAY_MS).toISOString().slice(0, 10)}.${Date.now().toString(36)}`
  const raw = `${name}.raw.parquet`
  const minute = `${name}.minute.parquet`
  await writeFile(database, raw, `${rows} ORDER BY signal, instant`)
  const sealedRows = `SELECT * FROM read_parquet(${quoted(sealedPath(database, raw))})`
  await writeFile(database, minute, `${rollUp(sealedRows, MINUTE_MS)} ORDER BY signal, instant`)
  await inTransaction(writer, async () => {
    await writer.run(`DELETE FROM hour WHERE ${inDay}`)
    await writer.run(`INSERT INTO hour ${rollUp(sealedRows, HOUR_MS)}`)
    await writer.run(`DELETE FROM sealed WHERE day = ${day}`)
    await writer.run('INSERT INTO sealed VALUES (?, ?, ?)', [day, raw, minute])
    await writer.run(`DELETE FROM sample WHERE ${inDay}`)
  })
}

function rollUp(rows: string, stepMs: number): string {
  return `SELECT signal, (instant // ${stepMs}) * ${stepMs} AS instant, min(value) AS low, max(value) AS high,
    sum(value) AS total, count(*)::UINTEGER AS count
    FROM (${rows}) WHERE quality < 2 AND value IS NOT NULL GROUP BY signal, instant // ${stepMs}`
}

async function writeFile(database: Database, file: string, select: string): Promise<void> {
  const path = sealedPath(database, file)
  const draft = `${path}.draft`
  await database.writer.run(`COPY (${select}) TO ${quoted(draft)} ${PARQUET}`)
  const handle = openSync(draft, 'r')
  fsyncSync(handle)
  closeSync(handle)
  renameSync(draft, path)
}

/** Lets go of tiers that are older than they are kept; the hour tier stays. */
async function forget({ writer }: Database, now: number, { rawDays, minuteDays }: Retention): Promise<void> {
  const today = Math.floor(now / DAY_MS)
  const oldest = (kept: number) => (Number.isFinite(kept) ? today - Math.floor(kept) : -1)
  await inTransaction(writer, async () => {
    await writer.run(`UPDATE sealed SET raw = NULL WHERE raw IS NOT NULL AND day < ${oldest(rawDays)}`)
    await writer.run(
      `UPDATE sealed SET minute = NULL WHERE minute IS NOT NULL AND day < ${oldest(minuteDays)}`,
    )
  })
}

function removeUnnamed(database: Database, days: readonly SealedDay[]): void {
  const named = new Set(days.flatMap(({ raw, minute }) => [raw, minute]))
  const folder = join(database.folder, 'sealed')
  for (const file of readdirSync(folder)) if (!named.has(file)) rmSync(join(folder, file))
}

/** All that the store takes on disk [bytes]. */
export function bytesOnDisk({ folder }: Database): number {
  const size = (path: string) => statSync(path, { throwIfNoEntry: false })?.size ?? 0
  const sealed = readdirSync(join(folder, 'sealed')).map((file) => size(join(folder, 'sealed', file)))
  const hot = [size(join(folder, 'hot.duckdb')), size(join(folder, 'hot.duckdb.wal'))]
  return [...sealed, ...hot].reduce((sum, one) => sum + one, 0)
}
