import { describe, expect, it } from 'vitest'
import { createPending } from '../../../server/history/stores/embedded/pending.ts'
import { batchOf } from '../../support/rangeModel.ts'

const rows = (from: number, to: number) =>
  batchOf(
    Array.from({ length: to - from }, (_, i) => ({
      signal: 'mill/speed',
      at: from + i,
      value: 1,
      quality: 0,
    })),
  )
const unstored = (pending: ReturnType<typeof createPending>, signals = ['mill/speed']) =>
  pending.unstored({ signals, from: 0, to: 1e6, points: 1 })
const times = (pending: ReturnType<typeof createPending>) => [...unstored(pending).at]

describe('the rows that wait to be stored', () => {
  it('lose the oldest beyond their limit, and count them', () => {
    const pending = createPending(3)
    pending.append(rows(0, 5))
    expect(times(pending)).toEqual([2, 3, 4])
    expect([pending.appended(), pending.rows(), pending.dropped()]).toEqual([5, 3, 2])
  })

  it('keep rows that are being stored until that is known', () => {
    const pending = createPending(10)
    pending.append(rows(0, 3))
    pending.take()
    pending.append(rows(3, 5))
    expect(times(pending)).toEqual([0, 1, 2, 3, 4])
    pending.settle()
    expect(times(pending)).toEqual([3, 4])
  })

  it('stay in order when a commit failed, what was tried first', () => {
    const pending = createPending(4)
    pending.append(rows(0, 3))
    pending.take()
    pending.append(rows(3, 6))
    pending.restore()
    expect(times(pending)).toEqual([0, 1, 2, 5])
    expect(pending.rows() + pending.dropped()).toBe(6)
  })

  it('hold hundreds of thousands of rows in order', () => {
    const pending = createPending(300_000)
    for (let i = 0; i < 10; i++) pending.append(rows(i * 20_000, (i + 1) * 20_000))
    expect(times(pending)).toEqual(Array.from({ length: 200_000 }, (_, i) => i))
    expect(pending.take()!.firstRow).toBe(0)
  })

  it('are told apart by signal and time for whoever asks, with their number among all', () => {
    const pending = createPending(10)
    const row = (signal: string, at: number) => ({ signal, at, value: at / 2, quality: 1 })
    pending.append(
      batchOf([row('mill/head', 1), row('mill/speed', 2), row('mill/power', 3), row('mill/head', 1e6)]),
    )
    const rows = unstored(pending, ['mill/power', 'mill/other', 'mill/head', 'mill/power'])
    expect([...rows.row]).toEqual([0, 2])
    expect([...rows.place]).toEqual([2, 0])
    expect([...rows.at, ...rows.value, ...rows.quality]).toEqual([1, 3, 0.5, 1.5, 1, 1])
  })

  it('are whole milliseconds', () => {
    const pending = createPending(10)
    pending.append(batchOf([{ signal: 'mill/speed', at: 999.7, value: 1, quality: 0 }]))
    expect(times(pending)).toEqual([999])
  })
})
