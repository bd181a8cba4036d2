import { rmSync, statSync } from 'node:fs'
import { join } from 'node:path'
import type { DuckDBConnection } from '@duckdb/node-api'
import { BAD_QUALITY } from '../../envelope.ts'
import { DAY_MS, HOUR_MS, MINUTE_MS } from '../../grid.ts'
import { publishFile } from './durableFile.ts'
import { type SealedFiles, TIERS } from './sealedFiles.ts'
import { type Segment, segmentName } from './segments.ts'
import { quote, SEALED_FORMAT, sealedFiles, sqlList } from './sqlText.ts'

export interface DayToSeal {
  /** [days since 1970, UTC] */
  day: number
  /** Last commit whose rows belong into the files. */
  through: number
  /** Signal names in the order of their numbers in the hot table. */
  names: readonly string[]
}

/**
 * Writes one day of the hot table into three sealed files (samples, minutes, hours), sorted by signal and time.
 * Nothing counts before the last of them has its name, so a run that is killed anywhere leaves the day as it was.
 * The rows are still in the hot table afterwards; the caller has them deleted.
 */
export async function sealDay(
  upkeep: DuckDBConnection,
  sealed: SealedFiles,
  what: DayToSeal,
): Promise<Segment[]> {
  const serial = sealed.nextSerial()
  const { day, through } = what
  const name = segmentName({ span: 'day', firstDay: day, serial, through })
  const temporary = (tier: string) => join(sealed.temporary, `${tier}-${name}`)
  await write(upkeep, samplesSql(what), temporary('raw'))
  await write(upkeep, minutesSql(temporary('raw')), temporary('minute'))
  await write(upkeep, hoursSql(sealedFiles([temporary('minute')])), temporary('hour'))
  const files = TIERS.map((tier) => ({ tier, path: join(sealed.folder, tier, name) }))
  try {
    for (const { tier, path } of files) publishFile(temporary(tier), path)
  } catch (error) {
    // a half-sealed day must not lie about until some later file makes it look whole
    for (const { path } of files) rmSync(path, { force: true })
    throw error
  }
  return files.map(({ tier, path }) => {
    const bytes = statSync(path).size
    return { tier, span: 'day', firstDay: day, lastDay: day, serial, through, path, bytes }
  })
}

export async function write(upkeep: DuckDBConnection, select: string, path: string): Promise<void> {
  await upkeep.run(`COPY (${select}) TO ${quote(path)} (${SEALED_FORMAT})`)
}

/** Sorts by the place of the name among all names: numbers sort faster than texts. */
function samplesSql({ day, through, names }: DayToSeal): string {
  const sorted = [...names].sort((a, b) => Buffer.compare(Buffer.from(a), Buffer.from(b)))
  const places = new Map(sorted.map((name, i) => [name, i + 1]))
  const placeOf = sqlList(names.map((name) => places.get(name)!))
  return `SELECT ${sqlList(sorted)}[place] AS signal, at_ms, value, quality FROM (
    SELECT ${placeOf}[signal + 1] AS place, at_ms, value, quality FROM hot
    WHERE at_ms >= ${day * DAY_MS} AND at_ms < ${(day + 1) * DAY_MS} AND commit_number <= ${through}
    ORDER BY place, at_ms)`
}

/** @param raw Path of a sealed file of samples. */
export function minutesSql(raw: string): string {
  return `SELECT signal, (at_ms // ${MINUTE_MS}) * ${MINUTE_MS} AS at_ms, min(value) AS minimum,
    max(value) AS maximum, sum(value) AS total, count(*)::INTEGER AS samples, arg_max(value, at_ms) AS latest
    FROM ${sealedFiles([raw])} WHERE value IS NOT NULL AND quality < ${BAD_QUALITY}
    GROUP BY 1, 2 ORDER BY 1, 2`
}

/** @param minutes Rows of minutes as an SQL table. */
export function hoursSql(minutes: string): string {
  return `SELECT signal, (at_ms // ${HOUR_MS}) * ${HOUR_MS} AS at_ms, min(minimum) AS minimum,
    max(maximum) AS maximum, sum(total) AS total, sum(samples)::INTEGER AS samples, arg_max(latest, at_ms) AS latest
    FROM ${minutes} GROUP BY 1, 2 ORDER BY 1, 2`
}

/**
 * Commits after which the rows of a day are cut into files, so that sorting them takes bounded memory and disk.
 *
 * @param last The last commit of all, which ends the last file.
 * @param limit Rows per file; a single commit is never cut.
 */
export async function cutsOfDay(
  upkeep: DuckDBConnection,
  day: number,
  { last, limit }: { last: number; limit: number },
): Promise<number[]> {
  const counted = await upkeep.runAndReadAll(
    `SELECT commit_number, count(*)::DOUBLE FROM hot
     WHERE at_ms >= ${day * DAY_MS} AND at_ms < ${(day + 1) * DAY_MS} AND commit_number <= ${last}
     GROUP BY 1 ORDER BY 1`,
  )
  const commits = counted.getRows().map(([commit, rows]) => ({ commit: Number(commit), rows: Number(rows) }))
  return [...cutCommits(commits, limit), last]
}

/** Commits before each of which, and after the last, lie at most `limit` rows, or those of one commit. */
export function cutCommits(commits: readonly { commit: number; rows: number }[], limit: number): number[] {
  const cuts: number[] = []
  let gathered = 0
  let before = 0
  for (const { commit, rows } of commits) {
    if (gathered > 0 && gathered + rows > limit) {
      cuts.push(before)
      gathered = 0
    }
    gathered += rows
    before = commit
  }
  return cuts
}
