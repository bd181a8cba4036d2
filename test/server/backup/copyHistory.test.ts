import { join } from 'node:path'
import { setTimeout as pause } from 'node:timers/promises'
import { describe, expect, it } from 'vitest'
import { copyHistory } from '../../../server/backup/copyHistory.ts'
import { readSlots, slotAt, slotBatch } from '../../fault/history/slots.ts'
import { emptyFolder } from '../../support/historyFolder.ts'
import { manualClock } from '../../support/manualClock.ts'
import { readableHistory } from '../../support/readableHistory.ts'

/** Slots of an hour that are stored before the copying begins, and those that come while it goes on. */
const BEFORE = 24 * 35
const MEANWHILE = 400

// What is checked are rules of the house: what was durable before is in the copy, and nothing is in it in part or twice.
describe('a copy of a history', () => {
  it('taken while rows come, days are sealed and months merged has all from before, and nothing twice', async () => {
    const clock = manualClock(slotAt(BEFORE) + 20 * 60_000)
    const from = emptyFolder()
    const store = readableHistory({ folder: from, clock })
    await store.open()
    for (let slot = 0; slot < BEFORE; slot++) store.append(slotBatch(slot))
    await store.flush()
    let isCopying = true
    const writing = (async () => {
      for (let slot = BEFORE; slot < BEFORE + MEANWHILE && isCopying; slot++) {
        store.append(slotBatch(slot))
        await store.flush()
        clock.advance(3_600_000)
        // a day is sealed every second or two; a server seals one a day
        await pause(50)
        if (slot % 24 === 0) await store.maintain()
      }
    })()
    const copies: string[] = []
    for (let i = 0; i < 2; i++) {
      copies.push(join(emptyFolder(), 'history'))
      await copyHistory(from, copies[i]!)
    }
    isCopying = false
    await writing
    await store.close()
    for (const folder of copies) {
      const copy = readableHistory({ folder, clock })
      await copy.open()
      expect(copy.health()).toMatchObject({ ok: true })
      const { whole, faulty } = await readSlots(copy, BEFORE + MEANWHILE, 'hours')
      expect(faulty).toEqual([])
      expect([...whole].filter((slot) => slot < BEFORE)).toHaveLength(BEFORE)
      await copy.close()
    }
  }, 60_000)
})
