import { statSync } from 'node:fs'
import { join } from 'node:path'
import type { DuckDBConnection } from '@duckdb/node-api'
import { type Healing, removeDamaged } from './damage.ts'
import { publishFile } from './durableFile.ts'
import type { SealedFiles } from './sealedFiles.ts'
import { hoursSql, minutesSql, write } from './sealing.ts'
import { holdsRowsOf, overlaps, type Segment, segmentName } from './segments.ts'
import { sealedFiles } from './sqlText.ts'

/** A roll-up that is not there although the rows that it is made of are. */
export interface MissingRollup {
  tier: 'minute' | 'hour'
  source: Segment
}

/**
 * The next roll-up that was lost (damaged, deleted by hand, not in a backup) and can be made anew without counting
 * a row twice; undefined when there is none. Minutes come before hours, whole months before days.
 */
export function findMissingRollup(segments: readonly Segment[]): MissingRollup | undefined {
  const of = (tier: Segment['tier']) => segments.filter((one) => one.tier === tier)
  const [raw, minutes, hours] = [of('raw'), of('minute'), of('hour')]
  const lacks = (coarser: readonly Segment[]) => (source: Segment) =>
    !coarser.some((one) => holdsRowsOf(one, source))

  const days = raw.find(lacks(minutes))
  if (days) return { tier: 'minute', source: days }
  // beside hours of single days it cannot be told which of them the month holds as well
  const month = minutes.find((one) => one.span !== 'day' && !hours.some((hour) => overlaps(hour, one)))
  const source = month ?? [...raw, ...minutes.filter((one) => one.span === 'day')].find(lacks(hours))
  return source && { tier: 'hour', source }
}

/** Makes every lost roll-up anew that can be. A source that turns out to be damaged is taken away. */
export async function makeMissingRollups(healing: Healing): Promise<void> {
  const { sealed, connection, onNotice } = healing
  for (;;) {
    const missing = findMissingRollup(sealed.segments())
    if (!missing) return
    try {
      const made = await makeRollup(connection, sealed, missing)
      sealed.replace([], [made])
      onNotice(`history: ${made.path} was missing and was made anew from ${missing.source.path}`)
    } catch (error) {
      if (!(await removeDamaged(healing, [missing.source], error))) throw error
    }
  }
}

/** Writes it, under the name of its source. */
async function makeRollup(
  upkeep: DuckDBConnection,
  sealed: SealedFiles,
  { tier, source }: MissingRollup,
): Promise<Segment> {
  const name = segmentName(source)
  const [made, path] = [join(sealed.temporary, `${tier}-${name}`), join(sealed.folder, tier, name)]
  await write(upkeep, rollupSql({ tier, source }), made)
  publishFile(made, path)
  return { ...source, tier, path, bytes: statSync(path).size }
}

function rollupSql({ tier, source }: MissingRollup): string {
  if (tier === 'minute') return minutesSql(source.path)
  return hoursSql(source.tier === 'raw' ? `(${minutesSql(source.path)})` : sealedFiles([source.path]))
}
