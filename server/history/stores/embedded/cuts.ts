import type { DuckDBConnection } from '@duckdb/node-api'
import { DAY_MS } from '../../grid.ts'

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
