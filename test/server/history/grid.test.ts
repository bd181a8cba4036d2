import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import { divideRange, HOUR_MS, MINUTE_MS } from '../../../server/history/grid.ts'

const signals = ['mill/netHead']
const NEW_YEAR = Date.UTC(2026, 0, 1)

describe('the division of a range into buckets', () => {
  it('begins at the start of the range where buckets are shorter than a minute', () => {
    const grid = divideRange({ signals, from: 1_234, to: 11_234, points: 10 })
    expect(grid).toMatchObject({ tier: 'raw', start: 1_234, bucketMs: 1_000, length: 10 })
  })

  it('lies on whole minutes from one minute on, and on whole hours from one hour on', () => {
    const from = NEW_YEAR + 61_500
    const minutes = divideRange({ signals, from, to: from + 100 * MINUTE_MS, points: 50 })
    expect(minutes).toMatchObject({ tier: 'minute', start: NEW_YEAR + MINUTE_MS, bucketMs: 3 * MINUTE_MS })
    const hours = divideRange({ signals, from, to: from + 100 * HOUR_MS, points: 100 })
    expect(hours).toMatchObject({ tier: 'hour', start: NEW_YEAR, bucketMs: 2 * HOUR_MS })
  })

  it('takes the finest tier that is kept where a finer one was asked for', () => {
    const grid = divideRange({ signals, from: NEW_YEAR, to: NEW_YEAR + HOUR_MS, points: 3_600 }, 'minute')
    expect(grid).toMatchObject({ tier: 'minute', bucketMs: MINUTE_MS, length: 60 })
  })

  it('covers the range with no more buckets than asked for and none that lies outside', () => {
    const range = fc.record({
      from: fc.double({ min: -1e12, max: 4e12, noNaN: true }),
      span: fc.double({ min: 0.001, max: 1e12, noNaN: true }),
      points: fc.integer({ min: 1, max: 5_000 }),
      finest: fc.constantFrom('raw' as const, 'minute' as const, 'hour' as const),
    })
    fc.assert(
      fc.property(range, ({ from, span, points, finest }) => {
        fc.pre(from + span > from)
        const grid = divideRange({ signals, from, to: from + span, points }, finest)
        expect(grid.length).toBeGreaterThanOrEqual(1)
        expect(grid.length).toBeLessThanOrEqual(points)
        expect(grid.start).toBeLessThanOrEqual(grid.from)
        expect(grid.start + grid.bucketMs).toBeGreaterThan(grid.from)
        expect(grid.start + grid.length * grid.bucketMs).toBeGreaterThanOrEqual(grid.to)
        expect(grid.start + (grid.length - 1) * grid.bucketMs).toBeLessThan(grid.to)
      }),
    )
  })

  it.each([
    { from: 0, to: 0, points: 1 },
    { from: 0, to: Number.NaN, points: 1 },
    { from: 0, to: 1, points: 0 },
    { from: 0, to: 1, points: 5_001 },
    { from: 0, to: 1, points: 1.5 },
  ])('refuses $from … $to at $points points', (range) => {
    expect(() => divideRange({ signals, ...range })).toThrow(RangeError)
  })

  it('refuses more cells than an answer may have', () => {
    const many = Array.from({ length: 401 }, (_, i) => `mill/figure${i}`)
    expect(() => divideRange({ signals: many, from: 0, to: 1, points: 5_000 })).toThrow(/too many/)
  })
})
