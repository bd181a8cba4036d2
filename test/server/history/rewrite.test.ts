import { readdirSync } from 'node:fs'
import { join } from 'node:path'
import { describe, expect, it } from 'vitest'
import { DAY_MS, HOUR_MS, MINUTE_MS } from '../../../server/history/grid.ts'
import { historyAtNoon, NOON } from '../../support/historyFolder.ts'
import { batchOf, columnByHand, type Sample } from '../../support/rangeModel.ts'
import type { Readable } from '../../support/readableHistory.ts'

const TODAY = NOON - DAY_MS / 2
const SIGNALS = ['mill/netHead', 'mill/speed']

function samplesEvery(stepMs: number, from: number, to: number): Sample[] {
  return SIGNALS.flatMap((signal, i) =>
    Array.from({ length: Math.ceil((to - from) / stepMs) }, (_, n) => {
      return { signal, at: from + n * stepMs, value: 1000 * i + (n % 97), quality: 0 }
    }),
  )
}

/** Every tier, against the plain list of what should be there. */
async function check(store: Readable, samples: readonly Sample[], [from, to]: [number, number]) {
  for (const points of [7, Math.round((to - from) / HOUR_MS), Math.round((to - from) / (5 * MINUTE_MS))]) {
    const reply = await store.query({ signals: SIGNALS, from, to, points })
    for (const [i, signal] of SIGNALS.entries()) {
      const { min, mean, max, count } = reply.columns[i]!
      const byHand = columnByHand(samples, signal, { reply, from, to })
      expect([...count]).toEqual(byHand.map((one) => one.count))
      expect([...min]).toEqual(byHand.map((one) => one.min))
      expect([...max]).toEqual(byHand.map((one) => one.max))
      for (const [n, one] of byHand.entries()) if (one.count > 0) expect(mean[n]).toBeCloseTo(one.mean, 6)
    }
  }
}

describe('what is replaced after it was sealed', () => {
  const from = TODAY - 2 * DAY_MS
  const span = { signals: ['mill/netHead'], from: TODAY - 90 * MINUTE_MS - 500, to: TODAY + 10 * MINUTE_MS }
  const before = samplesEvery(20_000, from, NOON)
  const replaced = samplesEvery(7_000, span.from, span.to)
    .filter(({ signal }) => signal === 'mill/netHead')
    .map((one) => ({ ...one, value: one.value + 5000 }))
  const isCut = (one: Sample) => one.signal === 'mill/netHead' && one.at >= span.from && one.at < span.to
  const after = [...before.filter((one) => !isCut(one)), ...replaced]

  it('counts in every tier, over midnight, after another opening and after it was sealed itself', async () => {
    const { store, clock, folder } = await historyAtNoon()
    store.append(batchOf(before))
    await store.flush()
    expect(await store.maintain()).toBeUndefined()
    expect(readdirSync(join(folder, 'raw'))).toHaveLength(2)
    await store.rewrite({ ...span, rows: batchOf(replaced) })
    await check(store, after, [from, NOON])
    // the same once more changes nothing
    await store.rewrite({ ...span, rows: batchOf(replaced) })
    await check(store, after, [from, NOON])
    await store.close()
    const again = (await historyAtNoon({ folder })).store
    await check(again, after, [from, NOON])
    await again.close()
    const later = await historyAtNoon({ folder })
    later.clock.setWall(NOON + DAY_MS)
    expect(await later.store.maintain()).toBeUndefined()
    await check(later.store, after, [from, NOON])
    clock.setWall(NOON)
  })

  it('counts where the hours and minutes of the month are merged', async () => {
    const { store, clock, folder } = await historyAtNoon()
    store.append(batchOf(before))
    await store.flush()
    expect(await store.maintain()).toBeUndefined()
    await store.rewrite({ ...span, rows: batchOf(replaced) })
    clock.setWall(Date.UTC(2026, 11, 3))
    for (let round = 0; round < 3; round++) expect(await store.maintain()).toBeUndefined()
    expect(readdirSync(join(folder, 'hour')).map((name) => name.slice(0, 8))).toEqual(['2026-11.'])
    await check(store, after, [from, NOON])
    // and out of the merged ones again
    await store.rewrite({ ...span, rows: batchOf([]) })
    const left = before.filter((one) => !isCut(one))
    await check(store, left, [from, NOON])
  })

  it('is refused where of that time only sums are left, and everything stays as it was', async () => {
    const { store, clock } = await historyAtNoon({ rawDays: 1 })
    store.append(batchOf(before))
    await store.flush()
    await store.maintain()
    clock.setWall(NOON + 5 * DAY_MS)
    for (let round = 0; round < 3; round++) await store.maintain()
    const change = { ...span, rows: batchOf(replaced) }
    await expect(store.rewrite(change)).rejects.toThrow(/single samples of 2026-11-24 are no longer kept/)
    expect(store.health().ok).toBe(true)
    store.append(batchOf([{ signal: 'mill/speed', at: NOON, value: 1, quality: 0 }]))
    await store.flush()
  })
})
