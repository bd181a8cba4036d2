import {
  copyFileSync,
  mkdirSync,
  readdirSync,
  readFileSync,
  rmSync,
  statSync,
  truncateSync,
  writeFileSync,
} from 'node:fs'
import { join } from 'node:path'
import { describe, expect, it } from 'vitest'
import { emptyFolder, historyAtNoon } from '../../support/historyFolder.ts'
import { manualClock } from '../../support/manualClock.ts'
import { type Readable, readableHistory } from '../../support/readableHistory.ts'
import { readSlots, slotAt, slotBatch } from './slots.ts'
import { startWriter } from './writerProcess.ts'

const SLOTS = 48

/** A folder in which 48 slots lie in the journal, left by a process that was killed. */
async function folderWithJournal(): Promise<{ folder: string; journal: string }> {
  const folder = emptyFolder()
  const writer = startWriter(folder, { first: 0, last: SLOTS, how: 'write' })
  await writer.printed((line) => line === 'done')
  await writer.kill()
  const journal = join(folder, 'recent.duckdb.wal')
  expect(statSync(journal).size).toBeGreaterThan(10_000)
  return { folder, journal }
}

async function storedSlots(store: Readable): Promise<number> {
  const { whole, faulty } = await readSlots(store, SLOTS, 'hours')
  expect(faulty).toEqual([])
  return whole.size
}

/** Slots ending in 9 come two days late, which is after the end here. */
const WRITTEN = SLOTS - 4

describe('a damaged journal', () => {
  it('of which the end is torn off loses the last commits only', async () => {
    const { folder, journal } = await folderWithJournal()
    truncateSync(journal, statSync(journal).size - 700)
    const { store } = await historyAtNoon({ folder })
    expect(await storedSlots(store)).toBeGreaterThanOrEqual(WRITTEN - 3)
    expect(await storedSlots(store)).toBeLessThan(WRITTEN)
  })

  it('with a wrong byte in the middle is kept aside, and storing goes on', async () => {
    const { folder, journal } = await folderWithJournal()
    const bytes = readFileSync(journal)
    bytes[Math.floor(bytes.length / 2)]! ^= 0xff
    writeFileSync(journal, bytes)
    const notices: string[] = []
    const { store } = await historyAtNoon({ folder, onNotice: (sentence) => notices.push(sentence) })
    expect(store.health()).toMatchObject({
      ok: true,
      detail: expect.stringMatching(/could not be read.*was kept as/),
    })
    expect(notices).toHaveLength(1)
    expect(readdirSync(folder).some((name) => name.startsWith('recent.duckdb.wal.corrupt-'))).toBe(true)
    const before = await storedSlots(store)
    expect(before).toBeLessThan(WRITTEN)
    store.append(slotBatch(9))
    await store.flush()
    expect(await storedSlots(store)).toBe(before + 1)
  })
})

describe('a damaged file of recent rows', () => {
  it('is kept aside, sealed days are still there, and later rows of those days are not mistaken for sealed', async () => {
    const folder = emptyFolder()
    const clock = manualClock(slotAt(SLOTS * 2))
    const store = readableHistory({ folder, clock })
    await store.open()
    for (let slot = 0; slot < SLOTS; slot++) if (slot !== 9) store.append(slotBatch(slot))
    await store.flush()
    expect(await store.maintain()).toBeUndefined()
    await store.close()
    writeFileSync(join(folder, 'recent.duckdb'), Buffer.alloc(20_000, 7))
    const { store: again } = await historyAtNoon({ folder })
    expect(again.health().detail).toMatch(/rows that were not sealed yet are missing/)
    expect(await storedSlots(again)).toBe(SLOTS - 1)
    again.append(slotBatch(9))
    await again.flush()
    await again.close()
    const { store: third } = await historyAtNoon({ folder })
    await third.maintain()
    expect(await storedSlots(third)).toBe(SLOTS)
  })
})

describe('a folder that cannot be used', () => {
  it('does not keep the server from starting; storing begins when it can be used', async () => {
    const folder = emptyFolder()
    const inTheWay = join(folder, 'history')
    writeFileSync(inTheWay, 'a file where the folder should be')
    const { store, clock } = await historyAtNoon({ folder: inTheWay })
    store.append(slotBatch(0))
    expect(store.health()).toMatchObject({
      ok: false,
      pending: 30,
      detail: expect.stringMatching(/EEXIST|ENOTDIR/),
    })
    await expect(store.flush()).rejects.toThrow(/EEXIST|ENOTDIR/)
    rmSync(inTheWay)
    const isWell = () => {
      clock.advance(1_000)
      return store.health().ok
    }
    await expect.poll(isWell, { timeout: 20_000 }).toBe(true)
    await store.flush()
    expect(await storedSlots(store)).toBe(1)
  })

  it('is refused in one sentence when another process has it open', async () => {
    const folder = emptyFolder()
    const writer = startWriter(folder, { first: 0, last: 1, how: 'write' })
    await writer.printed((line) => line === 'done')
    try {
      const store = readableHistory({ folder, clock: manualClock(slotAt(0)) })
      await expect(store.open()).rejects.toThrow(
        /^history: the folder .* is in use by another process \(PID \d+\); stop that one/,
      )
      // the other goes on undisturbed
      expect(readdirSync(folder)).toContain('temporary')
    } finally {
      await writer.kill()
    }
  })

  it('may be a copy of the folder of a process that still runs', async () => {
    const { folder } = await folderWithJournal()
    const copy = join(emptyFolder(), 'copy')
    mkdirSync(copy)
    for (const name of ['recent.duckdb', 'recent.duckdb.wal'])
      copyFileSync(join(folder, name), join(copy, name))
    const { store } = await historyAtNoon({ folder: copy })
    expect(await storedSlots(store)).toBe(WRITTEN)
  })
})
