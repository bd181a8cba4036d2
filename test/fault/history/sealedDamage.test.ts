import { readdirSync, readFileSync, renameSync, rmSync, statSync, truncateSync, writeFileSync } from 'node:fs'
import { join } from 'node:path'
import { describe, expect, it } from 'vitest'
import { historyAtNoon, NOON } from '../../support/historyFolder.ts'
import type { Readable } from '../../support/readableHistory.ts'
import { readSlots, slotAt, slotBatch } from './slots.ts'

/** Slots are hours from 2 November on, so these are three whole days. */
const SLOTS = 72
const DAY_SLOTS = 24
const TIERS = ['raw', 'minute', 'hour']

async function sealedFolder(notices: string[] = []) {
  const opened = await historyAtNoon({ onNotice: (sentence) => notices.push(sentence) })
  for (let slot = 0; slot < SLOTS; slot++) opened.store.append(slotBatch(slot))
  await opened.store.flush()
  expect(await opened.store.maintain()).toBeUndefined()
  return opened
}

const secondDay = (folder: string, tier: string) =>
  join(folder, tier, readdirSync(join(folder, tier)).sort()[1]!)

/** Whole slots by hours, and by single samples. */
async function count(store: Readable): Promise<[hours: number, samples: number]> {
  const [hours, samples] = [await readSlots(store, SLOTS, 'hours'), await readSlots(store, SLOTS, 'samples')]
  expect([...hours.faulty, ...samples.faulty]).toEqual([])
  return [hours.whole.size, samples.whole.size]
}

const damages: [string, (path: string) => void][] = [
  ['empty', (path) => truncateSync(path, 0)],
  ['cut in half', (path) => truncateSync(path, statSync(path).size >> 1)],
  ['wrong in its last bytes', (path) => overwriteEnd(path)],
  ['gone', (path) => rmSync(path)],
]

function overwriteEnd(path: string): void {
  const bytes = readFileSync(path)
  // the table of contents of a Parquet file ends eight bytes before the end (format specification, "File format")
  bytes.fill(0xa5, bytes.length - 200, bytes.length - 8)
  writeFileSync(path, bytes)
}

describe('a sealed file of samples', () => {
  it.each(damages)('that is %s costs the samples of its day only', async (_, damage) => {
    const notices: string[] = []
    const { store, folder } = await sealedFolder(notices)
    damage(secondDay(folder, 'raw'))
    expect(await count(store)).toEqual([SLOTS, SLOTS - DAY_SLOTS])
    expect(notices).toEqual([expect.stringMatching(/2026-11-03.*single samples are missing/)])
    expect(store.health()).toMatchObject({ ok: true, detail: notices[0] })
    expect(await store.maintain()).toBeUndefined()
    await store.close()
    const { store: again } = await historyAtNoon({ folder })
    expect(await count(again)).toEqual([SLOTS, SLOTS - DAY_SLOTS])
  })
})

describe('a sealed file of hours', () => {
  it.each(damages)('that is %s is made anew from the samples', async (_, damage) => {
    const notices: string[] = []
    const { store, folder } = await sealedFolder(notices)
    damage(secondDay(folder, 'hour'))
    expect(await count(store)).toEqual([SLOTS - DAY_SLOTS, SLOTS])
    expect(await store.maintain()).toBeUndefined()
    expect(await count(store)).toEqual([SLOTS, SLOTS])
    expect(notices).toEqual([
      expect.stringMatching(/hours are made anew/),
      expect.stringMatching(/hour.*was made anew/),
    ])
  })
})

it('keeps the samples of a folder of which nothing else was restored, and makes the rest anew', async () => {
  const { store, folder } = await sealedFolder()
  await store.close()
  for (const name of readdirSync(folder))
    if (name !== 'raw') rmSync(join(folder, name), { recursive: true, force: true })
  const { store: again } = await historyAtNoon({ folder })
  expect((await count(again))[1]).toBe(SLOTS)
  // what comes now for those days is not in those files
  again.append(slotBatch(SLOTS))
  await again.flush()
  expect(await again.maintain()).toBeUndefined()
  expect(await count(again)).toEqual([SLOTS, SLOTS])
  for (const tier of TIERS) expect(readdirSync(join(folder, tier)).length).toBeGreaterThanOrEqual(3)
})

it('merges a month although one of its files is damaged, and the month lacks nothing', async () => {
  const { store, clock, folder } = await sealedFolder()
  for (const tier of ['minute', 'hour']) truncateSync(secondDay(folder, tier), 100)
  clock.setWall(Date.UTC(2026, 11, 3))
  expect(await store.maintain()).toBeUndefined()
  expect(readdirSync(join(folder, 'hour')).filter((name) => name.startsWith('2026-11.'))).toHaveLength(1)
  expect(await count(store)).toEqual([SLOTS, SLOTS])
})

it('makes the hours of a merged month anew from its minutes, no row counted twice', async () => {
  const { store, clock, folder } = await sealedFolder()
  clock.setWall(Date.UTC(2026, 11, 3))
  await store.maintain()
  const month = readdirSync(join(folder, 'hour')).find((name) => name.startsWith('2026-11.'))!
  renameSync(join(folder, 'hour', month), join(folder, 'elsewhere'))
  expect(await store.maintain()).toBeUndefined()
  // nobody noticed so far; the first reading does
  expect((await count(store))[0]).toBe(0)
  expect(await store.maintain()).toBeUndefined()
  expect(await count(store)).toEqual([SLOTS, SLOTS])
  expect(slotAt(SLOTS)).toBeLessThan(NOON)
})
