import { existsSync } from 'node:fs'
import { join } from 'node:path'
import { describe, expect, it } from 'vitest'
import { type Database, openDatabase } from '../../../server/history/stores/embedded/database.ts'
import type { Layout } from '../../../server/layout.ts'
import { emptyFolder } from '../../support/historyFolder.ts'

const LIMITS = { memoryMb: 64, threads: 1, temporaryMb: 64, journalMb: 16 }
const LATER: Layout = {
  version: 3,
  tables: 'CREATE TABLE never (x INTEGER)',
  steps: { 2: 'ALTER TABLE hot ADD COLUMN note VARCHAR; UPDATE hot SET note = quality::VARCHAR' },
}

async function rows({ reader }: Database, sql: string) {
  return (await reader.runAndReadAll(sql)).getRowObjects()
}

async function folderOfToday(): Promise<string> {
  const folder = emptyFolder()
  const database = await openDatabase(folder, LIMITS)
  await database.writer.run('INSERT INTO hot VALUES (0, 1000, 2.5, 1, 1)')
  database.close()
  return folder
}

// Expectations are rules of the house; no outside source.
describe('the file of recent rows from an earlier release', () => {
  it('is brought up to date, and a copy of it is kept', async () => {
    const folder = await folderOfToday()
    const database = await openDatabase(folder, LIMITS, LATER)
    expect(await rows(database, 'SELECT value, note FROM hot')).toEqual([{ value: 2.5, note: '1' }])
    expect(await rows(database, 'SELECT format FROM progress')).toEqual([{ format: 3 }])
    expect(database.journalBytes()).toBeLessThan(200)
    database.close()
    expect(existsSync(join(folder, 'recent.duckdb.format-2'))).toBe(true)
    await expect(openDatabase(folder, LIMITS)).rejects.toThrow(/is of format 3, .* nothing was changed in it/)
  })

  it('is as it was where a step fails in the midst of it', async () => {
    const folder = await folderOfToday()
    const broken = { ...LATER, steps: { 2: `${LATER.steps[2]}; INSERT INTO nowhere VALUES (1)` } }
    await expect(openDatabase(folder, LIMITS, broken)).rejects.toThrow(
      /from format 2 to 3: .*nowhere.*it is as it was/,
    )
    const database = await openDatabase(folder, LIMITS)
    expect(await rows(database, 'SELECT * FROM hot')).toMatchObject([{ value: 2.5 }])
    expect((await rows(database, 'SELECT * FROM hot'))[0]).not.toHaveProperty('note')
    database.close()
  })
})
