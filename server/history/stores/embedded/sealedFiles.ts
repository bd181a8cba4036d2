import { mkdirSync, readdirSync, rmSync, statSync } from 'node:fs'
import { join } from 'node:path'
import { DAY_MS, type TierName } from '../../grid.ts'
import { syncToDisk } from './durableFile.ts'
import type { Struck } from './protocol.ts'
import { parseSegmentName, type Segment, sortOut } from './segments.ts'

/** Rows of the hot table that are in a sealed file already and only wait to be deleted. */
export interface Leaving {
  day: number
  through: number
}

/** Leaves out, of the hot table, what is in a sealed file already. */
export function notLeaving(leaving: readonly Leaving[]): string {
  return leaving
    .map(
      ({ day, through }) =>
        `AND NOT (at_ms >= ${day * DAY_MS} AND at_ms < ${(day + 1) * DAY_MS} AND commit_number <= ${through})`,
    )
    .join(' ')
}

/** The sealed files of one store, and who is reading them. */
export interface SealedFiles {
  folder: string
  /** Folder for files in the making; emptied at every start. */
  temporary: string
  segments(): readonly Segment[]
  /** Puts files in the place of others, for all queries from now on. */
  replace(removed: readonly Segment[], added: readonly Segment[]): void
  /** Takes files off the disk once nobody reads them. */
  discard(segments: readonly Segment[]): Promise<void>
  nextSerial(): number
  leaving: Leaving[]
  /** What no longer counts of files up to some serial. */
  struck: Struck[]
  /** Counts a query as a reader of the files as they are now. */
  read<T>(query: () => Promise<T>): Promise<T>
  /** Resolves when every query that runs now has ended. */
  readersGone(): Promise<void>
  bytes(): number
}

export const TIERS: readonly TierName[] = ['raw', 'minute', 'hour']

/**
 * Opens the folders of sealed files, makes what is missing and clears away what an interrupted run left.
 *
 * @param isHot True when the hot table still holds rows of that day file.
 */
export function openSealedFiles(folder: string, isHot: (segment: Segment) => boolean): SealedFiles {
  const temporary = join(folder, 'temporary')
  rmSync(temporary, { recursive: true, force: true })
  for (const name of [...TIERS, 'temporary']) mkdirSync(join(folder, name), { recursive: true })
  const found = TIERS.flatMap((tier) => listSegments(folder, tier))
  const { kept, leftovers } = sortOut(found, isHot)
  for (const segment of leftovers) rmSync(segment.path)
  let segments = kept
  const readers = new Set<Promise<unknown>>()

  async function readersGone(): Promise<void> {
    await Promise.allSettled(readers)
  }

  const sealed: SealedFiles = {
    folder,
    temporary,
    leaving: [],
    struck: [],
    segments: () => segments,
    replace(removed, added) {
      segments = [...segments.filter((segment) => !removed.includes(segment)), ...added]
    },
    async discard(unwanted) {
      await readersGone()
      for (const segment of unwanted) rmSync(segment.path, { force: true })
      for (const tier of new Set(unwanted.map((segment) => segment.tier))) syncToDisk(join(folder, tier))
    },
    nextSerial: () =>
      [...segments, ...sealed.struck].reduce((highest, { serial }) => Math.max(highest, serial), 0) + 1,
    read(query) {
      const reader = query()
      readers.add(reader)
      const leave = () => readers.delete(reader)
      reader.then(leave, leave)
      return reader
    },
    readersGone,
    bytes: () => segments.reduce((sum, segment) => sum + segment.bytes, 0),
  }
  return sealed
}

function listSegments(folder: string, tier: TierName): Segment[] {
  return readdirSync(join(folder, tier)).flatMap((name) => {
    const parsed = parseSegmentName(name)
    const path = join(folder, tier, name)
    return parsed ? [{ tier, ...parsed, path, bytes: statSync(path).size }] : []
  })
}
