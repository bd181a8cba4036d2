import { mkdtempSync, rmSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { onTestFinished } from 'vitest'
import type { HistoryOptions } from '../../server/history/openHistory.ts'
import type { EmbeddedStore } from '../../server/history/stores/embedded.ts'
import { type ManualClock, manualClock } from './manualClock.ts'
import { type Readable, readableHistory } from './readableHistory.ts'

/** Noon of a day on which no clock is suspect. */
export const NOON = Date.UTC(2026, 10, 25, 12)

/** An empty folder that is gone after the test. */
export function emptyFolder(): string {
  const folder = mkdtempSync(join(tmpdir(), 'headrace-history-'))
  onTestFinished(() => rmSync(folder, { recursive: true, force: true }))
  return folder
}

/** An open history in its own folder on a clock that stands still at noon; closed after the test. */
export async function historyAtNoon(
  options: Partial<HistoryOptions> = {},
): Promise<{ store: Readable<EmbeddedStore>; clock: ManualClock; folder: string }> {
  const folder = options.folder ?? emptyFolder()
  const clock = manualClock(NOON)
  const store = readableHistory({ folder, clock, memoryMb: 128, ...options })
  onTestFinished(() => store.close())
  await store.open()
  return { store, clock, folder }
}
