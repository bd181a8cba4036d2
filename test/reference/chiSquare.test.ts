import { describe, expect, it } from 'vitest'
import { chiSquareQuantile } from '../../server/statistics/chiSquare.ts'

describe('the quantile of χ²', () => {
  // critical values as printed in statistical tables (published, second hand); those at 0.999 from memory
  it.each([
    [0.95, 3, 7.815],
    [0.95, 10, 18.307],
    [0.99, 5, 15.086],
    [0.995, 4, 14.86],
    [0.999, 3, 16.266],
    [0.999, 10, 29.588],
    [0.999, 17, 40.79],
  ])(
    'at %d with %d degrees of freedom is that of the table, %d, within two per cent',
    (probability, freedom, value) => {
      expect(Math.abs(chiSquareQuantile(probability, freedom) / value - 1)).toBeLessThan(0.02)
    },
  )

  it('is 0 where nothing is left free', () => {
    expect(chiSquareQuantile(0.999, 0)).toBe(0)
  })
})
