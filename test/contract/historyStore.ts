import { afterEach, beforeEach, describe, expect, it } from 'vitest'
import type { SampleBatch } from '../../server/history/store.ts'
import type { Readable } from '../support/readableHistory.ts'

/** What every history store must do; run by one line per store. */
export function historyStoreContract(
  name: string,
  create: () => { store: Readable; remove: () => void },
): void {
  describe(`${name} as a history store`, () => {
    let made: { store: Readable; remove: () => void }
    let store: Readable

    beforeEach(async () => {
      made = create()
      store = made.store
      await store.open()
    })

    afterEach(async () => {
      await store.close()
      made.remove()
    })

    it('gives back minimum, mean, maximum and count of each bucket', async () => {
      store.append(
        batch('mill/netHead', [
          [1000, 10],
          [1500, 20],
          [2000, 40],
        ]),
      )
      const { at, columns } = await store.query({
        signals: ['mill/netHead'],
        from: 1000,
        to: 3000,
        points: 2,
      })
      expect([...at]).toEqual([1000, 2000])
      expect([...columns[0]!.min]).toEqual([10, 40])
      expect([...columns[0]!.mean]).toEqual([15, 40])
      expect([...columns[0]!.max]).toEqual([20, 40])
      expect([...columns[0]!.count]).toEqual([2, 1])
    })

    it('includes the start of the range and leaves out its end', async () => {
      store.append(
        batch('mill/netHead', [
          [999, 1],
          [1000, 2],
          [1999, 3],
          [2000, 4],
        ]),
      )
      const { columns } = await store.query({ signals: ['mill/netHead'], from: 1000, to: 2000, points: 1 })
      expect([columns[0]!.min[0], columns[0]!.max[0], columns[0]!.count[0]]).toEqual([2, 3, 2])
    })

    it('leaves a gap as NaN where a bucket holds no sample', async () => {
      store.append(
        batch('mill/netHead', [
          [0, 1],
          [9000, 2],
        ]),
      )
      const { columns } = await store.query({ signals: ['mill/netHead'], from: 0, to: 10_000, points: 10 })
      expect([...columns[0]!.mean]).toEqual([1, ...Array(8).fill(Number.NaN), 2])
    })

    it('keeps bad values and explicit gaps out of minimum, mean and maximum', async () => {
      store.append({
        signals: ['mill/netHead', 'mill/netHead', 'mill/netHead'],
        at: Float64Array.of(0, 1, 2),
        value: Float64Array.of(5, 99, Number.NaN),
        quality: Uint8Array.of(1, 2, 0),
      })
      const { columns } = await store.query({ signals: ['mill/netHead'], from: 0, to: 10, points: 1 })
      expect([columns[0]!.max[0], columns[0]!.count[0]]).toEqual([5, 1])
    })

    it('answers for signals in the order asked, an unknown one with gaps only', async () => {
      store.append(batch('mill/speed', [[0, 157]]))
      store.append(batch('mill/netHead', [[0, 24]]))
      const signals = ['mill/netHead', 'mill/nothing', 'mill/speed']
      const { columns } = await store.query({ signals, from: 0, to: 1, points: 1 })
      expect(columns.map((column) => column.signal)).toEqual(signals)
      expect(columns.map((column) => column.mean[0])).toEqual([24, Number.NaN, 157])
    })

    it('takes samples in any order of time', async () => {
      store.append(
        batch('mill/netHead', [
          [3000, 3],
          [1000, 1],
          [2000, 2],
        ]),
      )
      store.append(batch('mill/netHead', [[500, 0.5]]))
      const { columns } = await store.query({ signals: ['mill/netHead'], from: 0, to: 4000, points: 4 })
      expect([...columns[0]!.mean]).toEqual([0.5, 1, 2, 3])
    })

    it('counts rows that no store can keep, and stores the others', async () => {
      store.append({
        signals: ['mill/netHead', 'bad\nname', 'mill/netHead'],
        at: Float64Array.of(0, 0, Number.NaN),
        value: Float64Array.of(7, 8, 9),
        quality: new Uint8Array(3),
      })
      await store.flush()
      const { columns } = await store.query({ signals: ['mill/netHead'], from: 0, to: 10, points: 1 })
      expect(columns[0]!.count[0]).toBe(1)
      expect(store.health().dropped).toBe(2)
    })

    it('gives single samples back in the order of their times, with quality and gaps, and the last one before', async () => {
      store.append(
        batch('mill/speed', [
          [500, 1],
          [900, 2],
          [1500, 4],
        ]),
      )
      store.append({
        signals: ['mill/jetOpen', 'mill/speed', 'mill/speed'],
        at: Float64Array.of(100, 1000, 2000),
        value: Float64Array.of(7, Number.NaN, 5),
        quality: Uint8Array.of(0, 2, 1),
      })
      await store.flush()
      const asked = { signals: ['mill/jetOpen', 'mill/nothing', 'mill/speed'], from: 1000, to: 2000 }
      const reply = await store.samples({ ...asked, lead: 1000, limit: 10 })
      expect([...reply.signal]).toEqual([0, 2, 2, 2])
      expect([...reply.at]).toEqual([100, 900, 1000, 1500])
      expect([...reply.value]).toEqual([7, 2, Number.NaN, 4])
      expect([...reply.quality]).toEqual([0, 0, 2, 0])
      expect(reply.through).toBe(2000)
      const bare = await store.samples({ ...asked, lead: 0, limit: 10 })
      expect([...bare.at]).toEqual([1000, 1500])
    })

    it('stops at the limit of samples without splitting a moment, and says how far it came', async () => {
      store.append({
        signals: ['mill/a', 'mill/a', 'mill/b', 'mill/a'],
        at: Float64Array.of(10, 20, 20, 30),
        value: Float64Array.of(1, 2, 3, 4),
        quality: new Uint8Array(4),
      })
      await store.flush()
      const asked = { signals: ['mill/a', 'mill/b'], to: 100, lead: 0 }
      const first = await store.samples({ ...asked, from: 0, limit: 2 })
      expect([...first.value]).toEqual([1])
      expect(first.through).toBe(20)
      const rest = await store.samples({ ...asked, from: first.through, limit: 3 })
      expect([...rest.value]).toEqual([2, 3, 4])
      expect(rest.through).toBe(100)
    })

    it('refuses a span of samples that cannot be', async () => {
      const asked = { signals: ['mill/a'], from: 10, to: 10, lead: 0, limit: 5 }
      await expect(store.samples(asked)).rejects.toThrow(RangeError)
    })

    it('puts rows in the place of others of these signals within a span, and leaves the rest', async () => {
      store.append(
        batch('mill/netHead', [
          [999, 1],
          [1000, 2],
          [1500, 3],
          [2000, 4],
        ]),
      )
      store.append(batch('mill/speed', [[1500, 157]]))
      const change = { signals: ['mill/netHead'], from: 1000, to: 2000 }
      await store.rewrite({ ...change, rows: batch('mill/netHead', [[1200, 9]]) })
      await store.rewrite({ ...change, rows: batch('mill/netHead', [[1300, 7]]) })
      const signals = ['mill/netHead', 'mill/speed']
      const { signal, at, value } = await store.samples({ signals, from: 0, to: 3000, lead: 0, limit: 10 })
      expect([...signal]).toEqual([0, 0, 1, 0])
      expect([...at]).toEqual([999, 1300, 1500, 2000])
      expect([...value]).toEqual([1, 7, 157, 4])
    })

    it('refuses rows that lie outside the span that they replace, or are of other signals', async () => {
      const change = { signals: ['mill/netHead'], from: 1000, to: 2000 }
      const outside = { ...change, rows: batch('mill/netHead', [[2000, 9]]) }
      await expect(store.rewrite(outside)).rejects.toThrow(RangeError)
      const stray = { ...change, rows: batch('mill/speed', [[1500, 9]]) }
      await expect(store.rewrite(stray)).rejects.toThrow(RangeError)
    })

    it('refuses columns of unequal length', () => {
      const uneven = { ...batch('mill/netHead', [[0, 1]]), quality: new Uint8Array(2) }
      expect(() => store.append(uneven)).toThrow(RangeError)
    })

    it('says that it is well after everything was stored', async () => {
      store.append(batch('mill/netHead', [[0, 1]]))
      await store.flush()
      expect(store.health()).toMatchObject({ ok: true, pending: 0, appended: 1, dropped: 0 })
    })
  })
}

export function batch(signal: string, rows: [at: number, value: number][]): SampleBatch {
  return {
    signals: rows.map(() => signal),
    at: Float64Array.from(rows, ([at]) => at),
    value: Float64Array.from(rows, ([, value]) => value),
    quality: new Uint8Array(rows.length),
  }
}
