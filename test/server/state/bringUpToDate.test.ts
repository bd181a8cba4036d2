import { existsSync, mkdirSync, rmSync, statSync, writeFileSync } from 'node:fs'
import { join } from 'node:path'
import Database from 'libsql'
import { afterEach, beforeEach, describe, expect, it } from 'vitest'
import { createCounterStore } from '../../../server/derive/counterStore.ts'
import type { Layout } from '../../../server/layout.ts'
import { openPeople, openState } from '../../../server/state/openState.ts'
import { WATCH_LAYOUT } from '../../../server/state/schema.ts'
import { scratchFolder } from '../../support/scratch.ts'

/** What a release after this one may do: two steps, of which the second works with what the first made. */
const LATER: Layout = {
  version: WATCH_LAYOUT.version + 2,
  tables: 'CREATE TABLE never (x)',
  steps: {
    [WATCH_LAYOUT.version]: "ALTER TABLE counter ADD COLUMN unit TEXT NOT NULL DEFAULT 'J'",
    [WATCH_LAYOUT.version + 1]:
      "UPDATE counter SET unit = 'kWh', value = value / 3.6e6; CREATE INDEX counter_unit ON counter (unit)",
  },
}
const COUNTER = {
  id: 'energyGenerated',
  since: 500,
  source: 'meter' as const,
  state: { value: 7.2e6, at: 1000, last: 3, gapSeconds: 1, uncertainSeconds: 2, u95: 4.5e4 },
  memory: {},
}

// Expectations are rules of the house; what a transaction and VACUUM INTO keep: documentation of SQLite, lang_vacuum and pragma user_version.
describe('a file of rows from an earlier release', () => {
  let scratch: ReturnType<typeof scratchFolder>
  let file: string

  beforeEach(() => {
    scratch = scratchFolder()
    file = join(scratch.path, 'state.db')
    const earlier = openState(scratch.path)
    createCounterStore(earlier).save('mill', [{ counter: COUNTER, days: [], quarters: [] }])
    earlier.close()
  })
  afterEach(() => scratch.remove())

  const copy = () => `${file}.version-${WATCH_LAYOUT.version}`
  const rowIn = (path: string) => {
    const database = new Database(path)
    const [row] = database.prepare('SELECT * FROM counter').all() as Record<string, unknown>[]
    const { user_version } = database.prepare('PRAGMA user_version').get() as { user_version: number }
    database.close()
    return { row, version: user_version }
  }

  it('is brought up to date step by step, and a copy of it is kept', () => {
    openState(scratch.path, LATER).close()
    expect(rowIn(file)).toMatchObject({ row: { unit: 'kWh', value: 2 }, version: LATER.version })
    expect(rowIn(copy())).toMatchObject({ row: { value: 7.2e6 }, version: WATCH_LAYOUT.version })
    expect(rowIn(copy()).row).not.toHaveProperty('unit')
    expect(statSync(copy()).mode & 0o777).toBe(0o600)
  })

  it('of which nothing has changed goes on with the version of the other file', () => {
    const steps = { ...LATER.steps, [WATCH_LAYOUT.version + 2]: '' }
    openState(scratch.path, { ...LATER, version: LATER.version + 1, steps }).close()
    expect(rowIn(file)).toMatchObject({ row: { unit: 'kWh', value: 2 }, version: LATER.version + 1 })
  })

  it('is brought up to date once: the next start has nothing to do', () => {
    openState(scratch.path, LATER).close()
    rmSync(copy())
    openState(scratch.path, LATER).close()
    expect(existsSync(copy())).toBe(false)
    expect(rowIn(file).row).toMatchObject({ value: 2 })
  })

  it('is as it was where a step fails, in the midst of it too, and the next try begins anew', () => {
    const half = `${LATER.steps[WATCH_LAYOUT.version + 1]}; INSERT INTO nowhere VALUES (1)`
    const broken = { ...LATER, steps: { ...LATER.steps, [WATCH_LAYOUT.version + 1]: half } }
    expect(() => openState(scratch.path, broken)).toThrow(
      /^.*state\.db could not be brought from version \d+ to \d+: .*nowhere.*\. It is as it was\. .*--data\.$/,
    )
    expect(rowIn(file)).toMatchObject({ row: { value: 7.2e6 }, version: WATCH_LAYOUT.version })
    expect(rowIn(file).row).not.toHaveProperty('unit')
    openState(scratch.path, LATER).close()
    expect(rowIn(file)).toMatchObject({ row: { unit: 'kWh', value: 2 } })
  })

  it('is as it was where no copy of it can be kept', () => {
    mkdirSync(join(copy(), 'in the way'), { recursive: true })
    expect(() => openState(scratch.path, LATER)).toThrow(/could not be brought from .*It is as it was/)
    expect(rowIn(file)).toMatchObject({ row: { value: 7.2e6 }, version: WATCH_LAYOUT.version })
  })

  it('is refused where a step is missing: it is older than the first release', () => {
    const { [WATCH_LAYOUT.version]: _, ...later } = LATER.steps
    expect(() => openState(scratch.path, { ...LATER, steps: later })).toThrow(
      /was written by another Headrace\. .*--data\.$/,
    )
    expect(rowIn(file).version).toBe(WATCH_LAYOUT.version)
  })

  it('is refused by the release before it', () => {
    openState(scratch.path, LATER).close()
    expect(() => openState(scratch.path)).toThrow(/was written by a newer Headrace\. .*--data\.$/)
    expect(rowIn(file).version).toBe(LATER.version)
  })

  it('that is damaged is refused in a sentence', () => {
    writeFileSync(file, Buffer.alloc(8192, 7))
    expect(() => openState(scratch.path)).toThrow(/^.*state\.db cannot be read: .*not a database.*--data\.$/)
    writeFileSync(join(scratch.path, 'people.db'), Buffer.alloc(8192, 7))
    expect(() => openPeople(scratch.path)).toThrow(
      /^.*people\.db cannot be read: .*not a database.*--data\.$/,
    )
  })
})
