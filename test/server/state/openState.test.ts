import { chmodSync, mkdtempSync, rmSync, statSync, writeFileSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import Database from 'libsql'
import { afterEach, beforeEach, describe, expect, it } from 'vitest'
import { NEVER_RAISED, type Step } from '../../../server/alarms/alarm.ts'
import { createJournal } from '../../../server/alarms/journal.ts'
import { NEW_LIFE } from '../../../server/alarms/lifeCycle.ts'
import { createCounterStore } from '../../../server/derive/counterStore.ts'
import { openPeople, openState, readState } from '../../../server/state/openState.ts'

const step = (at: number): Step => ({
  at,
  alarm: 'over',
  priority: 'high',
  entry: 'alarm',
  from: 'normal',
  to: 'unacknowledged',
  event: 'raise',
  value: 1,
})

describe('openState', () => {
  let folder: string
  beforeEach(() => {
    folder = mkdtempSync(join(tmpdir(), 'headrace-state-'))
  })
  afterEach(() => rmSync(folder, { recursive: true, force: true }))

  it('refuses a second server on the same folder in one sentence, and lets it in once the first has gone', () => {
    const first = openState(folder)
    expect(() => openState(folder)).toThrow(/^Another Headrace server is using the data folder .*--data\.$/)
    first.close()
    openState(folder).close()
  })

  it('refuses a folder that cannot be written in one sentence', () => {
    const file = join(folder, 'file')
    writeFileSync(file, '')
    chmodSync(file, 0o400)
    expect(() => openState(join(file, 'data'))).toThrow(/^The data folder .* cannot be written: .*--data\.$/)
  })

  it('lets nobody else on the machine read what is stored, for hashes of passwords are among it', () => {
    const state = openState(folder)
    const people = openPeople(folder)
    state.write(() => state.database.exec("INSERT INTO notify_memory (key, value) VALUES ('linkKey', 'x')"))
    people.write(() => people.database.exec("INSERT INTO setUpCode (hash, at) VALUES ('x', 1)"))
    const names = ['state.db', 'state.db-wal', 'people.db', 'people.db-wal']
    const modes = names.map((name) => statSync(join(folder, name)).mode & 0o777)
    expect(modes).toEqual([0o600, 0o600, 0o600, 0o600])
    state.close()
    people.close()
  })

  it('lets somebody beside it read what was written, and nothing else', () => {
    const state = openState(folder)
    const beside = readState(folder)
    state.write(() => state.database.exec("INSERT INTO notify_memory (key, value) VALUES ('a', '1')"))
    expect(beside.database.prepare('SELECT value FROM notify_memory').get()).toMatchObject({ value: '1' })
    expect(() => beside.database.exec('DELETE FROM notify_memory')).toThrow(/readonly/)
    beside.close()
    state.close()
  })

  it('keeps counters and journal across a restart', () => {
    const first = openState(folder)
    const counter = {
      id: 'energyGenerated',
      since: 500,
      source: 'meter' as const,
      state: { value: 12.5, at: 1000, last: 3, gapSeconds: 1, uncertainSeconds: 2, u95: 0.5 },
      memory: { reading: 7 },
    }
    const day = { date: '1970-01-01', value: 12.5, gapSeconds: 1, uncertainSeconds: 2, u95: null, peak: null }
    createCounterStore(first).save('mill', [{ counter, days: [day], quarters: [] }])
    createJournal(first).record('mill', step(7), {
      ...NEVER_RAISED,
      life: { ...NEW_LIFE, announced: 'unacknowledged' },
    })
    first.close()
    const second = openState(folder)
    expect(createCounterStore(second).load('mill', 'energyGenerated')).toEqual(counter)
    const span = { from: '1969-12-01', to: '1970-01-31' }
    expect(createCounterStore(second).days('mill', 'energyGenerated', span)).toEqual([day])
    const journal = createJournal(second)
    expect(journal.memoryOf('mill', 'over')?.life.announced).toBe('unacknowledged')
    expect(journal.newest('mill', { limit: 10 }).map((entry) => entry.at)).toEqual([7])
    second.close()
  })

  it.each([
    [99, 'a newer Headrace'],
    [-1, 'another Headrace'],
  ])('refuses a file of version %i in one sentence, and leaves it as it is', (version, whose) => {
    const other = new Database(join(folder, 'state.db'))
    other.exec(`CREATE TABLE kept (x); PRAGMA user_version = ${version}`)
    other.close()
    expect(() => openState(folder)).toThrow(new RegExp(`was written by ${whose}\\. .*--data\\.$`))
    const after = new Database(join(folder, 'state.db'))
    expect(after.prepare('PRAGMA user_version').get()).toMatchObject({ user_version: version })
    expect(after.prepare('SELECT name FROM sqlite_master').all()).toMatchObject([{ name: 'kept' }])
    after.close()
  })

  it('counts writes that the disk refuses instead of throwing, and the journal stores them later in order', () => {
    const state = openState(folder)
    const journal = createJournal(state)
    state.database.exec('ALTER TABLE journal RENAME TO away')
    journal.record('mill', step(1), NEVER_RAISED)
    journal.record('mill', step(2), NEVER_RAISED)
    expect(state.failures()).toMatchObject({ count: 2, isFailing: true })
    expect(journal.waiting()).toEqual({ length: 2, dropped: 0 })
    state.database.exec('ALTER TABLE away RENAME TO journal')
    journal.storeWaiting()
    expect(journal.waiting().length).toBe(0)
    expect(state.failures().isFailing).toBe(false)
    journal.record('mill', step(3), NEVER_RAISED)
    expect(journal.newest('mill', { limit: 10 }).map((entry) => entry.at)).toEqual([3, 2, 1])
    state.close()
  })

  describe('the journal is shortened', () => {
    const YEAR = 365.25 * 86_400_000
    const NOW = Date.UTC(2036, 0, 1)
    const sequencesLeft = (ats: readonly number[], keeping: { years: number; entries: number }) => {
      const state = openState(folder)
      const journal = createJournal(state, undefined, keeping)
      for (const at of ats) journal.record('mill', step(at), NEVER_RAISED)
      let taken = 0
      for (let i = 0; i < 20; i++) taken += journal.shorten(NOW)
      const left = journal
        .newest('mill', { limit: 10_000 })
        .map(({ sequence }) => sequence)
        .reverse()
      expect(left.length + taken).toBe(ats.length)
      expect(journal.record('mill', step(NOW), NEVER_RAISED).sequence).toBe(ats.length + 1)
      state.close()
      return left
    }
    const years = (...ages: number[]) => ages.map((age) => NOW - age * YEAR)

    it('by age, oldest first', () => {
      expect(sequencesLeft(years(12, 11, 9, 1), { years: 10, entries: 1000 })).toEqual([3, 4])
    })

    it('but for its newest entry, after which the next is numbered', () => {
      expect(sequencesLeft(years(30, 20, 12), { years: 10, entries: 1000 })).toEqual([3])
    })

    it('by number, some hundred at a time', () => {
      const left = sequencesLeft(
        Array.from({ length: 900 }, (_, i) => NOW - 900 + i),
        { years: 10, entries: 300 },
      )
      expect([left.length, left[0]]).toEqual([300, 601])
    })

    it('but keeps what was written while the clock stood in 1970', () => {
      expect(sequencesLeft([0, 1, ...years(3, 2, 1)], { years: 10, entries: 1000 })).toEqual([1, 2, 3, 4, 5])
    })
  })

  it('lists the journal newest first and goes on where asked', () => {
    const state = openState(folder)
    const journal = createJournal(state)
    for (const at of [1, 2, 3]) journal.record('mill', step(at), NEVER_RAISED)
    journal.record('other', step(4), NEVER_RAISED)
    const page = journal.newest('mill', { limit: 2 })
    expect(page.map((entry) => entry.at)).toEqual([3, 2])
    expect(journal.newest('mill', { limit: 2, before: page[1]!.sequence }).map((entry) => entry.at)).toEqual([
      1,
    ])
    state.close()
  })

  it('keeps folder, state and lock to the account of the server, also in a folder from before', () => {
    chmodSync(folder, 0o755)
    openState(folder).close()
    const modeOf = (name: string) => (statSync(join(folder, name)).mode & 0o777).toString(8)
    expect([modeOf(''), modeOf('state.db'), modeOf('lock.db')]).toEqual(['700', '600', '600'])
  })
})
