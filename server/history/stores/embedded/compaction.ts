import { statSync } from 'node:fs'
import { join } from 'node:path'
import type { DuckDBConnection } from '@duckdb/node-api'
import { DAY_MS, type TierName } from '../../grid.ts'
import { publishFile } from './durableFile.ts'
import type { SealedFiles } from './sealedFiles.ts'
import { write } from './sealing.ts'
import { type Segment, type Span, segmentName, spanDays } from './segments.ts'
import { sealedFiles } from './sqlText.ts'
import { groupSealed } from './struck.ts'

/** Files of one tier that are to become one. */
export interface Merge {
  tier: TierName
  span: Span
  firstDay: number
  lastDay: number
  inputs: Segment[]
}

/** So that a query over years opens tens of files, not thousands. Samples stay in files of one day. */
const SPANS: readonly (readonly [TierName, Span])[] = [
  ['hour', 'year'],
  ['hour', 'month'],
  ['minute', 'month'],
]
/** Late files of a month or year that is merged already wait until there are so many. */
const LATE_FILES = 8
/** Larger months stay in files of one day: sorting them would take too much memory [bytes]. */
const MERGE_LIMIT = 150_000_000

/**
 * The next merge that is due: of a month or year that ended more than a day before `now` and lies in two files
 * or more; undefined when nothing is due.
 */
export function findMerge(segments: readonly Segment[], now: number): Merge | undefined {
  for (const [tier, span] of SPANS) {
    const ofTier = segments.filter((one) => one.tier === tier)
    for (const { firstDay, lastDay } of periods(ofTier, span)) {
      if ((lastDay + 2) * DAY_MS > now) continue
      const inputs = ofTier.filter((one) => one.firstDay >= firstDay && one.lastDay <= lastDay)
      const isMerged = inputs.some((one) => one.span === span)
      const bytes = inputs.reduce((sum, one) => sum + one.bytes, 0)
      if (inputs.length < (isMerged ? LATE_FILES + 1 : 2) || bytes > MERGE_LIMIT) continue
      return { tier, span, firstDay, lastDay, inputs }
    }
  }
  return undefined
}

/** Months or years in which any of these files begins. */
function periods(segments: readonly Segment[], span: Span): { firstDay: number; lastDay: number }[] {
  const found = segments.map((one) => spanDays(span, one.firstDay))
  return [...new Map(found.map((one) => [one.firstDay, one])).values()]
}

/** Writes one file with the rows of all inputs. The inputs still count until the new file has its name. */
export async function merge(upkeep: DuckDBConnection, sealed: SealedFiles, what: Merge): Promise<Segment> {
  const { tier, span, firstDay, lastDay, inputs } = what
  const serial = sealed.nextSerial()
  const through = Math.max(...inputs.map((one) => one.through))
  const name = segmentName({ span, firstDay, serial, through })
  const temporary = join(sealed.temporary, `${tier}-${name}`)
  const path = join(sealed.folder, tier, name)
  const parts = groupSealed(inputs, sealed.struck).map(
    ({ paths, except }) => `SELECT * FROM ${sealedFiles(paths)} WHERE true ${except}`,
  )
  await write(upkeep, `SELECT * FROM (${parts.join(' UNION ALL ')}) ORDER BY signal, at_ms`, temporary)
  publishFile(temporary, path)
  return { tier, span, firstDay, lastDay, serial, through, path, bytes: statSync(path).size }
}
