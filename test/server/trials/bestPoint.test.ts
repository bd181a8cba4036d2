import { describe, expect, it } from 'vitest'
import { bestCell, bestCurves, otherCurves } from '../../support/bestCurves.ts'

/** Short form of the bench "trials", which has every curve with n = 6, 8, 12, 20 and three scatters. */
describe('the best point of a curve of any form', () => {
  it.each([
    ['roof', 12, 0.003],
    ['mildly asymmetric', 12, 0.006],
    ['Francis, kink', 20, 0.001],
    ['torque law', 8, 0.006],
    ['flat top', 12, 0.006],
    ['cut off', 12, 0.003],
    ['two tops', 20, 0.003],
    ['roof', 20, 0.006],
    // the method was made without two of these three, and widened for the kink
    ['kink', 20, 0.001],
    ['log-normal', 12, 0.003],
    ['logistic rise, plateau', 20, 0.006],
  ])(
    'is held by its interval, place and height: %s, %d points',
    (name, count, scatter) => {
      const runs = 24
      const cell = bestCell({ ...bestCurves, ...otherCurves }[name]!, { count, scatter, runs })
      // 95 % is what is stated; of 24 draws at 0.93 fewer than 19 hold with a chance of 1 %
      expect(cell.place * runs).toBeGreaterThanOrEqual(19)
      expect(cell.height * runs).toBeGreaterThanOrEqual(19)
    },
    120_000,
  )

  it('is told closely where the points can tell: within a fifth of the range with 12 points of 0.3 %', () => {
    for (const name of ['round', 'sharp', 'roof', 'mildly asymmetric', 'asymmetric', 'torque law']) {
      const { told, width } = bestCell(bestCurves[name]!, { count: 12, scatter: 0.003, runs: 4 })
      expect(told, name).toBe(1)
      expect(width, name).toBeLessThan(0.2)
    }
  }, 120_000)

  it('is not told where the top lies beyond the points', () => {
    expect(bestCell(bestCurves['cut off']!, { count: 12, scatter: 0.003, runs: 8 }).told).toBe(0)
  }, 120_000)
})
