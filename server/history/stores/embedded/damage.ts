import { existsSync, renameSync } from 'node:fs'
import type { DuckDBConnection } from '@duckdb/node-api'
import { firstLine } from './database.ts'
import type { SealedFiles } from './sealedFiles.ts'
import type { Segment } from './segments.ts'
import { sealedFiles } from './sqlText.ts'

/** Reading a sound file may fail for want of something, or of a disk that is gone: then it stays where it is. */
const WANT = /out of memory|interrupt|permission|too many open|input\/output error|stale file/i

/** Where damage is looked for and who is told of it. */
export interface Healing {
  sealed: SealedFiles
  connection: DuckDBConnection
  onNotice(sentence: string): void
}

/**
 * Takes away the sealed files because of which a reading failed, so that the rest can be read.
 *
 * @param suspects Files that the reading touched.
 * @param error What it failed with.
 * @returns False when it failed for another reason: reading again does not help.
 */
export async function removeDamaged(
  { sealed, connection, onNotice }: Healing,
  suspects: readonly Segment[],
  error: unknown,
): Promise<boolean> {
  const found = await findDamage(connection, suspects, error)
  for (const damage of found) {
    const sentence = putFileAside(damage)
    sealed.replace([damage.segment], [])
    onNotice(sentence)
  }
  return found.length > 0
}

/** A sealed file that cannot be read, and what the engine says of it. */
interface Damage {
  segment: Segment
  reason: string
}

/** Reads each suspect from end to end, since the engine's error does not always name the file. */
async function findDamage(
  connection: DuckDBConnection,
  suspects: readonly Segment[],
  error: unknown,
): Promise<Damage[]> {
  const sentence = error instanceof Error ? error.message : String(error)
  if (WANT.test(sentence)) return []
  const named = suspects.filter((one) => sentence.includes(one.path))
  const found: Damage[] = []
  for (const segment of named.length > 0 ? named : suspects) {
    const reason = await faultOf(connection, segment)
    if (reason !== undefined && !WANT.test(reason)) found.push({ segment, reason })
  }
  return found
}

async function faultOf(connection: DuckDBConnection, { path }: Segment): Promise<string | undefined> {
  try {
    await connection.runAndReadAll(`SELECT count(COLUMNS(*)) FROM ${sealedFiles([path])}`)
    return undefined
  } catch (error) {
    return firstLine(error instanceof Error ? error.message : String(error))
  }
}

/**
 * Gives a damaged file a name under which it no longer counts, and keeps it for whoever wants to look into it.
 * Returns what happened and what is missing now, in one sentence.
 */
function putFileAside({ segment, reason }: Damage): string {
  const { path, tier } = segment
  const kept = `${path}.damaged-${new Date().toISOString().replaceAll(':', '')}`
  const isThere = existsSync(path)
  if (isThere) renameSync(path, kept)
  const fate = isThere ? `could not be read: ${reason}; it was kept as ${kept}` : 'is gone'
  const loss =
    tier === 'raw'
      ? 'its single samples are missing, the minutes and hours are there'
      : `the ${tier}s are made anew from what is left`
  return `history: ${path} ${fate}; ${loss}`
}
