import { readdirSync, statSync } from 'node:fs'
import { join } from 'node:path'
import type { Worker } from 'node:worker_threads'
import { describe, expect, it, onTestFinished } from 'vitest'
import { DAY_MS, HOUR_MS, MINUTE_MS } from '../../../server/history/grid.ts'
import { openHistory } from '../../../server/history/openHistory.ts'
import type { HistoryReader } from '../../../server/history/store.ts'
import { Busy } from '../../../server/turns.ts'
import { emptyFolder, historyAtNoon, NOON } from '../../support/historyFolder.ts'
import { manualClock } from '../../support/manualClock.ts'
import { batchOf } from '../../support/rangeModel.ts'
import { readableHistory } from '../../support/readableHistory.ts'

const TODAY = NOON - DAY_MS / 2
const SIGNAL = 'mill/netHead'
/** A busy machine may take a while to start a thread. */
const PATIENCE = { timeout: 15_000 }

/** One sample a minute over some days, its value the minute of its day. */
function minuteRows(fromDay: number, toDay: number) {
  const minutes = Array.from({ length: ((toDay - fromDay) * DAY_MS) / MINUTE_MS }, (_, i) => i)
  return batchOf(
    minutes.map((minute) => ({
      signal: SIGNAL,
      at: TODAY + fromDay * DAY_MS + minute * MINUTE_MS,
      value: minute % 1440,
      quality: 0,
    })),
  )
}

async function count(store: HistoryReader, from: number, to: number): Promise<number> {
  const { columns } = await store.query({ signals: [SIGNAL], from, to, points: 1 })
  return columns[0]!.count[0]!
}

const filesOf = (folder: string, tier: string) =>
  readdirSync(join(folder, tier)).map((name) => name.slice(0, 10))

describe('the sealing of past days', () => {
  it('puts every day that is over into a file of its own and leaves today in the hot table', async () => {
    const { store, folder } = await historyAtNoon()
    store.append(minuteRows(-2, 1))
    await store.flush()
    expect(await store.maintain()).toBeUndefined()
    for (const tier of ['raw', 'minute', 'hour'])
      expect(filesOf(folder, tier)).toEqual(['2026-11-23', '2026-11-24'])
    expect(await count(store, TODAY - 2 * DAY_MS, TODAY + DAY_MS)).toBe(3 * 1440)
  })

  it('removes the oldest samples when it has become larger than it may, and answers from the minutes', async () => {
    const { store, folder } = await historyAtNoon({ largestGb: 1e-6 })
    store.append(minuteRows(-3, 1))
    await store.flush()
    expect(await store.maintain()).toBeUndefined()
    expect(filesOf(folder, 'raw')).toEqual(['2026-11-24'])
    expect(filesOf(folder, 'hour')).toHaveLength(3)
    expect(store.health()).toMatchObject({ ok: true, detail: expect.stringContaining('--history-size') })
  })

  it('stores no more samples where the disk has little room, and says so', async () => {
    const { store } = await historyAtNoon({ leastFreeMb: 1e12 })
    store.append(minuteRows(0, 1))
    await expect(store.flush()).rejects.toThrow(/no samples are stored until/)
    expect(store.health()).toMatchObject({
      ok: false,
      detail: expect.stringMatching(/counters and alarms go on/),
    })
  })

  it('waits a quarter of an hour after midnight for what is a little late', async () => {
    const { store, clock, folder } = await historyAtNoon()
    store.append(minuteRows(0, 1))
    await store.flush()
    clock.setWall(TODAY + DAY_MS + 14 * MINUTE_MS)
    await store.maintain()
    expect(filesOf(folder, 'hour')).toEqual([])
    clock.setWall(TODAY + DAY_MS + 15 * MINUTE_MS)
    await store.maintain()
    expect(filesOf(folder, 'hour')).toEqual(['2026-11-25'])
  })

  it('is held by a clock that cannot be right, and says so', async () => {
    const { store, clock, folder } = await historyAtNoon()
    store.append(minuteRows(-1, 0))
    await store.flush()
    clock.setWall(Date.UTC(2000, 0, 1))
    expect(await store.maintain()).toMatch(/the clock says 2000-01-01/)
    expect(store.health()).toMatchObject({ ok: false, detail: expect.stringMatching(/nothing is sealed/) })
    expect(filesOf(folder, 'raw')).toEqual([])
    clock.setWall(NOON)
    expect(await store.maintain()).toBeUndefined()
    expect(store.health().ok).toBe(true)
  })

  it('cuts a day of many samples into several files', async () => {
    const { store, folder } = await historyAtNoon({ rowsPerFile: 700 })
    for (const hour of Array(24).keys()) {
      const rows = minuteRows(-1, 0)
      const part = <T extends { slice(from: number, to: number): T }>(column: T) =>
        column.slice(hour * 60, hour * 60 + 60)
      const { signals, at, value, quality } = rows
      store.append({ signals: part(signals), at: part(at), value: part(value), quality: part(quality) })
      await store.flush()
    }
    expect(await store.maintain()).toBeUndefined()
    // 1440 samples in commits of 60: 11 commits are 660
    expect(filesOf(folder, 'raw')).toEqual(Array(3).fill('2026-11-24'))
    expect(await count(store, TODAY - DAY_MS, TODAY)).toBe(1440)
    expect(await count(store, TODAY - HOUR_MS, TODAY - HOUR_MS + MINUTE_MS)).toBe(1)
  })

  it('leaves a small hot table behind', async () => {
    const { store, folder } = await historyAtNoon()
    for (let day = -8; day < 0; day++) store.append(minuteRows(day, day + 1))
    await store.flush()
    await store.maintain()
    // one block of the engine is 256 KiB; eight days of samples must not stay in it
    expect(statSync(join(folder, 'recent.duckdb')).size).toBeLessThan(8 * 262_144)
  })

  it('survives a close and another opening', async () => {
    const { store, folder } = await historyAtNoon()
    store.append(minuteRows(-2, 1))
    await store.flush()
    await store.maintain()
    store.append(minuteRows(-2, -1))
    await store.close()
    const { store: again } = await historyAtNoon({ folder })
    expect(await count(again, TODAY - 2 * DAY_MS, TODAY + DAY_MS)).toBe(4 * 1440)
  })
})

describe('history over months', () => {
  it('merges the hours and minutes of past months, and still answers alike', async () => {
    const { store, folder } = await historyAtNoon()
    store.append(minuteRows(-60, 1))
    await store.flush()
    expect(await store.maintain()).toBeUndefined()
    // 26 September to 25 November
    expect(readdirSync(join(folder, 'hour')).filter((name) => /^2026-(09|10)\./.test(name))).toHaveLength(2)
    expect(filesOf(folder, 'minute')).not.toContain('2026-10-15')
    expect(filesOf(folder, 'raw')).toContain('2026-10-15')
    const reply = await store.query({
      signals: [SIGNAL],
      from: TODAY - 60 * DAY_MS,
      to: TODAY + DAY_MS,
      points: 61,
    })
    expect(reply.bucketMs).toBe(DAY_MS)
    expect([...reply.columns[0]!.count]).toEqual(Array(61).fill(1440))
    expect([...reply.columns[0]!.mean]).toEqual(Array(61).fill(719.5))
  }, 60_000)

  it('answers from minutes where the samples are no longer kept', async () => {
    const { store, folder } = await historyAtNoon({ rawDays: 2 })
    store.append(minuteRows(-6, 1))
    await store.flush()
    for (let round = 0; round < 5; round++) await store.maintain()
    expect(filesOf(folder, 'raw')).toEqual(['2026-11-23', '2026-11-24'])
    const old = { from: TODAY - 5 * DAY_MS, to: TODAY - 5 * DAY_MS + HOUR_MS }
    const reply = await store.query({ signals: [SIGNAL], ...old, points: 3_600 })
    expect(reply.bucketMs).toBe(MINUTE_MS)
    expect([...reply.columns[0]!.mean]).toEqual(Array.from({ length: 60 }, (_, i) => i))
    const recent = { from: TODAY - DAY_MS, to: TODAY - DAY_MS + HOUR_MS }
    expect((await store.query({ signals: [SIGNAL], ...recent, points: 3_600 })).bucketMs).toBe(1_000)
  })

  it('refuses to keep a coarser tier for a shorter time', () => {
    expect(() => openHistory({ folder: 'x', clock: manualClock(0), rawDays: 10, minuteDays: 5 })).toThrow(
      RangeError,
    )
  })
})

describe('the storing thread', () => {
  /** The workers started from now on, so that a test can take one away. */
  function watchWorkers(): Worker[] {
    const workers: Worker[] = []
    const keep = (worker: Worker) => workers.push(worker)
    process.on('worker', keep)
    onTestFinished(() => void process.off('worker', keep))
    return workers
  }

  it('is started again when it dies, and no row is lost or doubled', async () => {
    const workers = watchWorkers()
    const notices: string[] = []
    const { store, clock } = await historyAtNoon({ onNotice: (sentence) => notices.push(sentence) })
    store.append(minuteRows(0, 1))
    clock.advance(1_000)
    await expect.poll(() => store.health().pending, PATIENCE).toBe(0)
    store.append(minuteRows(1, 2))
    // only while nothing is under way in it: the engine cannot be torn out of a call without ending the process
    await workers[0]!.terminate()
    expect(store.health()).toMatchObject({ ok: false, detail: expect.stringMatching(/ended/) })
    await expect(store.query({ signals: [SIGNAL], from: 0, to: 1, points: 1 })).rejects.toThrow(/at present/)
    clock.advance(1_000)
    await expect.poll(() => store.health().ok, PATIENCE).toBe(true)
    await store.flush()
    expect(await count(store, TODAY, TODAY + 2 * DAY_MS)).toBe(2 * 1440)
    expect(store.health()).toMatchObject({ dropped: 0, detail: expect.stringMatching(/again 1 time/) })
    expect(notices).toHaveLength(1)
  })

  it('is given back what waited for it, oldest dropped beyond the limit', async () => {
    const workers = watchWorkers()
    const { store, clock } = await historyAtNoon({ pendingLimit: 1_000 })
    await workers[0]!.terminate()
    store.append(minuteRows(0, 1))
    expect(store.health()).toMatchObject({ pending: 1_000, dropped: 440, appended: 1_440 })
    clock.advance(1_000)
    await expect.poll(() => store.health().pending, PATIENCE).toBe(0)
    expect(await count(store, TODAY, TODAY + DAY_MS)).toBe(1_000)
  })
})

describe('the embedded store', () => {
  it('is refused a folder that is open in this process', async () => {
    const { folder, clock } = await historyAtNoon()
    await expect(openHistory({ folder, clock }).open()).rejects.toThrow(/open in this process already/)
  })

  it('stores once a second without being asked', async () => {
    const { store, clock } = await historyAtNoon()
    store.append(minuteRows(0, 1))
    expect(store.health().pending).toBe(1_440)
    clock.advance(1_000)
    await expect.poll(() => store.health().pending, PATIENCE).toBe(0)
  })

  it('counts rows once that are being stored while it answers', async () => {
    const { store } = await historyAtNoon()
    for (let round = 1; round <= 20; round++) {
      store.append(minuteRows(0, 1))
      const stored = store.flush()
      // the first may see the rows in memory only, the others on either side
      const counts = await Promise.all([0, 1, 2, 3].map(() => count(store, TODAY, TODAY + DAY_MS)))
      expect(counts).toEqual(Array(4).fill(round * 1440))
      await stored
    }
  })

  it('refuses queries beyond the number that may wait', async () => {
    const { store } = await historyAtNoon()
    const range = { signals: [SIGNAL], from: 0, to: 1, points: 1 }
    const answers = await Promise.allSettled(Array.from({ length: 34 }, () => store.query(range)))
    const refused = answers.filter((one) => one.status === 'rejected')
    expect(refused.map((one) => one.reason)).toEqual([expect.any(Busy)])
  })

  it('stops a query that takes too long, says what would help, and goes on', async () => {
    const clock = manualClock(NOON)
    const store = readableHistory({ folder: emptyFolder(), clock, memoryMb: 128, queryTimeoutMs: 1 })
    onTestFinished(() => store.close())
    await store.open()
    store.append(minuteRows(-300, 0))
    await store.flush()
    const slow = { signals: [SIGNAL], from: TODAY - 300 * DAY_MS, to: TODAY, points: 5_000 }
    await expect(store.query(slow)).rejects.toThrow(/interrupted after 0\.001 s; ask for a shorter range/)
    store.append(minuteRows(0, 1))
    await store.flush()
    expect(store.health()).toMatchObject({ ok: true, dropped: 0 })
  })

  it('answers for each signal once, in the order asked, also for none at all', async () => {
    const { store } = await historyAtNoon()
    store.append(minuteRows(0, 1))
    const range = { from: TODAY, to: TODAY + DAY_MS, points: 1 }
    const { columns } = await store.query({ signals: ['mill/speed', SIGNAL, 'mill/speed'], ...range })
    expect(columns.map((column) => [column.signal, column.count[0]])).toEqual([
      ['mill/speed', 0],
      [SIGNAL, 1440],
    ])
    expect((await store.query({ signals: [], ...range })).columns).toEqual([])
  })

  it('answers for more signals at once than are looked for one by one', async () => {
    const { store } = await historyAtNoon()
    const signals = Array.from({ length: 20 }, (_, i) => `mill/figure${i}`)
    store.append(batchOf(signals.map((signal, i) => ({ signal, at: TODAY - DAY_MS, value: i, quality: 0 }))))
    await store.flush()
    await store.maintain()
    const { columns } = await store.query({ signals, from: TODAY - DAY_MS, to: TODAY, points: 1 })
    expect(columns.map((column) => column.mean[0])).toEqual(signals.map((_, i) => i))
  })

  it('rejects what is asked of it after it was closed', async () => {
    const { store, folder } = { ...(await historyAtNoon()), folder: emptyFolder() }
    await store.close()
    await expect(store.query({ signals: [SIGNAL], from: 0, to: 1, points: 1 })).rejects.toThrow(/history/)
    store.append(minuteRows(0, 1))
    await expect(store.flush()).rejects.toThrow(/not open|closed/)
    expect(readdirSync(folder)).toEqual([])
  })
})
