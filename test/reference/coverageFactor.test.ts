import { describe, expect, it } from 'vitest'
import { coverageFactor95 } from '../../server/statistics/coverageFactor.ts'
import { studentQuantile } from '../../server/statistics/studentT.ts'

describe('coverageFactor95', () => {
  // JCGM 100:2008 table G.2, column 95 %
  it.each([
    [1, 12.71],
    [5, 2.57],
    [10, 2.23],
    [20, 2.09],
    [50, 2.01],
    [100, 1.984],
  ])('is the printed t of %d degrees of freedom', (freedom, printed) => {
    expect(coverageFactor95(freedom)).toBeCloseTo(printed, 2)
  })

  it('stays within 0.0006 of the exact point for any whole number of degrees of freedom', () => {
    for (let freedom = 1; freedom <= 1000; freedom++)
      expect(Math.abs(coverageFactor95(freedom) - studentQuantile(0.95, freedom)), `${freedom}`).toBeLessThan(
        0.0006,
      )
  })

  it('rounds down what is not whole and gives 1.96 without end', () => {
    expect(coverageFactor95(5.9)).toBe(coverageFactor95(5))
    expect(coverageFactor95(Number.POSITIVE_INFINITY)).toBeCloseTo(1.96, 3)
  })
})
