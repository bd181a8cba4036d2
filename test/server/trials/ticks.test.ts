import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import { roundTicks } from '../../../server/trials/plot/plotFrame.ts'

describe('round ticks', () => {
  // expected values by hand: steps of 1, 2, 2.5 or 5 times a power of ten
  it.each([
    [0, 3.9, 9, [0, 0.5, 1, 1.5, 2, 2.5, 3, 3.5, 4]],
    [60.2, 71.1, 9, [60, 62, 64, 66, 68, 70, 72]],
    [-0.0021, 0.0019, 5, [-0.004, -0.002, 0, 0.002]],
    [0, 97, 6, [0, 20, 40, 60, 80, 100]],
  ])('from %d to %d with at most %d are round', (...row) => {
    const [low, high, most, values] = row
    expect(roundTicks(low, high, most).values).toEqual(values)
  })

  it('cover any range, are evenly apart and no more than asked for', () => {
    const number = fc.double({ min: -1e9, max: 1e9, noNaN: true })
    fc.assert(
      fc.property(
        number,
        fc.double({ min: 1e-6, max: 1e9, noNaN: true }),
        fc.integer({ min: 4, max: 12 }),
        (low, wide, most) => {
          fc.pre(wide > Math.abs(low) * 1e-6)
          const ticks = roundTicks(low, low + wide, most)
          const step = ticks.values[1]! - ticks.values[0]!
          expect(ticks.low).toBeLessThanOrEqual(low + wide * 1e-6)
          expect(ticks.high).toBeGreaterThanOrEqual(low + wide * (1 - 1e-6))
          expect(ticks.values.length).toBeLessThanOrEqual(most)
          for (const [i, value] of ticks.values.entries())
            expect(Math.abs(value - (ticks.low + i * step))).toBeLessThan(step * 1e-3)
        },
      ),
    )
  })
})
