import { readdirSync, watch } from 'node:fs'
import { join } from 'node:path'
import { setTimeout as wait } from 'node:timers/promises'
import { expect, it } from 'vitest'
import { DAY_MS } from '../../../server/history/grid.ts'
import { emptyFolder } from '../../support/historyFolder.ts'
import { manualClock } from '../../support/manualClock.ts'
import { readableHistory } from '../../support/readableHistory.ts'
import { readSlots, type Stored, slotAt } from './slots.ts'
import { startWriter } from './writerProcess.ts'

/** At most so many slots are tried between two kills. */
const STRIDE = 1_000
const KILLS = 26
const MOST_KILLS = 60

/** How long a process may write before it is killed: from "in the first commit" to "after dozens of sealed days". */
function killDelay(round: number): number {
  return Math.random() * (round % 3 === 0 ? 40 : 700)
}

async function read(folder: string, end: number, from: 'hours' | 'samples'): Promise<Stored> {
  // not behind the writer, whose clock says what is no longer kept
  const clock = manualClock(slotAt(end) + DAY_MS / 2)
  const store = readableHistory({ folder, clock, rawDays: 20, memoryMb: 64 })
  await store.open()
  try {
    expect(store.health()).toEqual(expect.objectContaining({ ok: true }))
    expect(store.health().detail).toBeUndefined()
    return await readSlots(store, end, from)
  } finally {
    await store.close()
  }
}

/** Kills the writer as soon as a file appears in one of its folders. */
async function killAtFile(folder: string, kind: string, first: number): Promise<number[]> {
  const writer = startWriter(folder, { first, last: first + STRIDE, how: 'seal' })
  await writer.printed((line) => /^\d+$/.test(line))
  await new Promise<void>((resolve) => {
    const watcher = watch(join(folder, kind), () => {
      watcher.close()
      resolve()
    })
  })
  await writer.kill()
  return writer.acknowledged
}

it('loses, tears and doubles no batch when it is killed as a sealed file is written or gets its name', async () => {
  const folder = emptyFolder()
  const acknowledged: number[] = []
  for (const kind of ['temporary', 'raw', 'minute', 'hour', 'temporary', 'hour', 'raw', 'minute']) {
    const first = acknowledged.length === 0 ? 0 : Math.max(...acknowledged) + 3
    acknowledged.push(...(await killAtFile(folder, kind, first)))
    for (const from of ['hours', 'samples'] as const) {
      const { whole, faulty } = await read(folder, Math.max(...acknowledged) + 3, from)
      expect(faulty).toEqual([])
      expect(acknowledged.filter((slot) => !whole.has(slot))).toEqual([])
    }
  }
}, 120_000)

it('loses, tears and doubles no acknowledged batch over 26 kills and more at random moments, sealing all the while', async () => {
  const folder = emptyFolder()
  const acknowledged = new Set<number>()
  let next = 0
  const sealed = () => readdirSync(join(folder, 'hour')).length
  // a slow machine seals few days between two kills: then some more rounds, until the kills met something
  for (let round = 0; round < KILLS || (sealed() <= 2 && round < MOST_KILLS); round++) {
    const writer = startWriter(folder, { first: next, last: next + STRIDE, how: 'seal' })
    await writer.printed((line) => /^\d+$/.test(line))
    await wait(killDelay(round))
    await writer.kill()
    for (const slot of writer.acknowledged) acknowledged.add(slot)
    // the batch under way, at most two slots on since every tenth comes late, may be stored or not
    const end = Math.max(...writer.acknowledged) + 3
    const { whole, faulty } = await read(folder, end, 'hours')
    expect(faulty).toEqual([])
    expect([...acknowledged].filter((slot) => !whole.has(slot))).toEqual([])
    expect(whole.size - acknowledged.size).toBeLessThanOrEqual(2 * (round + 1))
    next = end
  }
  // proof that the kills met something: days were sealed, and the samples tell the same as the roll-ups
  expect(sealed()).toBeGreaterThan(2)
  const { whole, faulty } = await read(folder, next, 'samples')
  expect(faulty).toEqual([])
  expect([...acknowledged].filter((slot) => !whole.has(slot))).toEqual([])
  console.log(`${acknowledged.size} batches acknowledged, ${sealed()} hour files`)
}, 240_000)
