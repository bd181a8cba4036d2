import { readFileSync } from 'node:fs'
import { join } from 'node:path'
import { setTimeout as wait } from 'node:timers/promises'
import Database from 'libsql'
import { afterAll, afterEach, beforeEach, describe, expect, it } from 'vitest'
import { COMMIT_CHECKPOINTS_AT, createCheckpoints } from '../../../server/state/checkpoints.ts'
import { scratchFolder } from '../../support/scratch.ts'

describe('checkpoints', () => {
  const scratch = scratchFolder()
  let file: string
  let database: Database.Database
  let number = 0

  beforeEach(() => {
    file = join(scratch.path, `rows-${number++}.db`)
    database = new Database(file)
    database.pragma('journal_mode = WAL')
    database.pragma(`wal_autocheckpoint = ${COMMIT_CHECKPOINTS_AT}`)
    database.exec('CREATE TABLE told (text TEXT)')
  })
  afterEach(() => void database.close())
  afterAll(scratch.remove)

  const tell = (text: string) => database.exec(`INSERT INTO told VALUES ('${text}')`)
  const isInFile = (text: string) => readFileSync(file).includes(text)

  it('bring what was committed from the log into the file, beside the thread that commits', async () => {
    const checkpoints = createCheckpoints(file, 0)
    tell('the river is rising')
    expect(isInFile('the river is rising')).toBe(false)
    checkpoints.committed()
    for (let i = 0; i < 200 && !isInFile('the river is rising'); i++) await wait(10)
    expect(isInFile('the river is rising')).toBe(true)
    checkpoints.close()
  })

  it('come no more often than their pause', async () => {
    const checkpoints = createCheckpoints(file, 60_000)
    tell('the gate is open')
    checkpoints.committed()
    await wait(100)
    expect(isInFile('the gate is open')).toBe(false)
    checkpoints.close()
  })

  it('may be ended while one is under way', async () => {
    for (let i = 0; i < 50; i++) {
      const checkpoints = createCheckpoints(file, 0)
      tell(`row ${i}`)
      checkpoints.committed()
      checkpoints.close()
    }
    await wait(50)
    expect(database.prepare('SELECT count(*) AS rows FROM told').get()).toMatchObject({ rows: 50 })
  })
})
