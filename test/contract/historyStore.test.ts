import { mkdtempSync, rmSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { systemClock as clock } from '../../server/clock.ts'
import { embeddedStore } from '../../server/history/stores/embedded.ts'
import { memoryStore } from '../../server/history/stores/memory.ts'
import { historyStoreContract } from './historyStore.ts'

historyStoreContract('the memory store', () => ({ store: memoryStore(), remove: () => {} }))

historyStoreContract('the embedded store', () => {
  const folder = mkdtempSync(join(tmpdir(), 'headrace-history-'))
  const retention = { rawDays: 400, minuteDays: 3650 }
  return {
    store: embeddedStore({ folder, clock, retention }),
    remove: () => rmSync(folder, { recursive: true, force: true }),
  }
})
