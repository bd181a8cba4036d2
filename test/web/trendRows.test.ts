import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import { createTrendRows, NOT_GIVEN } from '../../web/hold/trendRows.ts'

const one = (value: number) => ({ min: value, mean: value, max: value })

describe('createTrendRows', () => {
  it('keeps the smallest, the mean and the largest value of a bucket', () => {
    const rows = createTrendRows({ ids: ['speed'], bucketMs: 1000, capacity: 10 })
    for (const [at, value] of [
      [1000, 150],
      [1400, 177],
      [1900, 153],
    ] as const)
      rows.add('speed', at, one(value))
    expect(rows.columns('speed')).toEqual({ at: [1000], min: [150], mean: [160], max: [177] })
  })

  it('marks a hole with one row without samples', () => {
    const rows = createTrendRows({ ids: ['speed'], bucketMs: 1000, capacity: 10 })
    rows.add('speed', 1000, one(1))
    rows.add('speed', 9000, one(2))
    expect(rows.columns('speed')).toMatchObject({ at: [1000, 2000, 9000], mean: [1, Number.NaN, 2] })
  })

  it('puts a late sample into the row it belongs to', () => {
    const rows = createTrendRows({ ids: ['speed', 'netHead'], bucketMs: 1000, capacity: 10 })
    rows.add('speed', 1000, one(1))
    rows.add('speed', 2000, one(2))
    rows.add('netHead', 1300, one(24))
    expect(rows.columns('netHead').mean).toEqual([24, Number.NaN])
    expect(rows.late).toBe(0)
  })

  it('counts a sample older than every row instead of drawing it elsewhere', () => {
    const rows = createTrendRows({ ids: ['speed'], bucketMs: 1000, capacity: 10 })
    rows.add('speed', 5000, one(1))
    rows.add('speed', 1000, one(2))
    expect([rows.length, rows.late]).toEqual([1, 1])
  })

  it('records a value that could not be given, unless the bucket has a good one', () => {
    const rows = createTrendRows({ ids: ['speed'], bucketMs: 1000, capacity: 10 })
    rows.add('speed', 1000, null)
    rows.add('speed', 2000, one(7))
    rows.add('speed', 2500, null)
    expect(rows.columns('speed').mean).toEqual([NOT_GIVEN, 7])
  })

  it('refuses a figure without a column', () => {
    const rows = createTrendRows({ ids: ['speed'], bucketMs: 1000, capacity: 10 })
    expect(() => rows.add('torque', 0, one(1))).toThrow(/torque/)
  })

  it('holds what a list of the newest rows holds, whatever comes', () => {
    const sample = fc.record({
      step: fc.integer({ min: 0, max: 4 }),
      value: fc.integer({ min: -50, max: 50 }),
    })
    fc.assert(
      fc.property(
        fc.array(sample, { maxLength: 80 }),
        fc.integer({ min: 1, max: 9 }),
        (samples, capacity) => {
          const rows = createTrendRows({ ids: ['speed'], bucketMs: 1000, capacity })
          const model: { at: number; values: number[] }[] = []
          let at = 0
          for (const { step, value } of samples) {
            at += step * 1000
            const last = model.at(-1)
            if (last && at > last.at + 1000) model.push({ at: last.at + 1000, values: [] })
            if (last?.at === at) last.values.push(value)
            else model.push({ at, values: [value] })
            rows.add('speed', at, one(value))
          }
          const kept = model.slice(-capacity)
          const columns = rows.columns('speed')
          expect(columns.at).toEqual(kept.map((row) => row.at))
          expect(columns.min).toEqual(
            kept.map(({ values }) => (values.length ? Math.min(...values) : Number.NaN)),
          )
          expect(columns.max).toEqual(
            kept.map(({ values }) => (values.length ? Math.max(...values) : Number.NaN)),
          )
        },
      ),
      { seed: 20_261_125 },
    )
  })
})
