import { statfsSync } from 'node:fs'
import type { EngineOptions } from './protocol.ts'

/** How long an answer of the disk counts [ms]. */
const VALID_MS = 5000

/**
 * Samples give way before the disk is full, while counters and the alarm journal, which are small, can still be stored.
 *
 * @returns what throws a sentence for people while there is too little room.
 */
export function createRoomCheck({
  folder,
  leastFreeBytes,
}: Pick<EngineOptions, 'folder' | 'leastFreeBytes'>) {
  let askedAt = Number.NEGATIVE_INFINITY
  let free = 0
  return (): void => {
    const now = performance.now()
    if (now - askedAt > VALID_MS) {
      const { bavail, bsize } = statfsSync(folder)
      free = bavail * bsize
      askedAt = now
    }
    if (free >= leastFreeBytes) return
    throw new Error(
      `the disk has ${Math.round(free / 1e6)} MB left: no samples are stored until ${Math.round(leastFreeBytes / 1e6)} MB are free; counters and alarms go on`,
    )
  }
}
