import { mkdtempSync, rmSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { systemClock as clock } from '../../server/clock.ts'
import { openHistory } from '../../server/history/openHistory.ts'
import { memoryStore } from '../support/memoryHistory.ts'
import { historyStoreContract } from './historyStore.ts'

historyStoreContract('the memory store', () => ({ store: memoryStore(), remove: () => {} }))

historyStoreContract('the embedded store', () => {
  const folder = mkdtempSync(join(tmpdir(), 'headrace-history-'))
  return {
    store: openHistory({ folder, clock }),
    remove: () => rmSync(folder, { recursive: true, force: true }),
  }
})
