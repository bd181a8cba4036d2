import { mkdtempSync, rmSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { systemClock as clock } from '../../server/clock.ts'
import { memoryStore } from '../support/memoryHistory.ts'
import { readableHistory } from '../support/readableHistory.ts'
import { historyStoreContract } from './historyStore.ts'

historyStoreContract('the memory store', () => ({ store: memoryStore(), remove: () => {} }))

historyStoreContract('the embedded store', () => {
  const folder = mkdtempSync(join(tmpdir(), 'headrace-history-'))
  return {
    store: readableHistory({ folder, clock }),
    remove: () => rmSync(folder, { recursive: true, force: true }),
  }
})
