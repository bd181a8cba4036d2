import { describe, expect, it } from 'vitest'
import { effectiveCount } from '../../server/statistics/autocorrelation.ts'
import { createRandom } from '../../server/statistics/bootstrap.ts'
import { covarianceAt, fitNonlinear } from '../../server/statistics/nonlinearLeastSquares.ts'
import { median } from '../../server/statistics/quantiles.ts'
import { expandTypes } from '../../server/statistics/uncertainty.ts'
import { lineOf } from '../../server/trials/capture/steadiness.ts'
import { createNormal } from '../support/normal.ts'

/**
 * NIST StRD, Misra1a (D. Misra 1978, dental research in monomolecular adsorption). Data and certified values from
 * memory; the fit reproduces the certified values, so both are right.
 */
const MISRA1A = {
  y: [10.07, 14.73, 17.94, 23.93, 29.61, 35.18, 40.02, 44.82, 50.76, 55.05, 61.01, 66.4, 75.47, 81.78],
  x: [77.6, 114.9, 141.1, 190.8, 239.9, 289, 332.8, 378.4, 434.8, 477.3, 536.8, 593.1, 689.1, 760],
}
const misra = (x: readonly number[]) => (parameters: readonly number[]) =>
  x.map((one) => parameters[0]! * (1 - Math.exp(-parameters[1]! * one)))

describe('fitNonlinear', () => {
  it.each([
    ['far', [500, 0.0001]],
    ['near', [250, 0.0005]],
  ])('finds the certified parameters and errors of Misra1a from the %s start (NIST StRD)', (_, start) => {
    const predict = misra(MISRA1A.x)
    const fit = fitNonlinear({ predict, y: MISRA1A.y, start })
    const errors = covarianceAt(predict, fit.parameters, fit.residuals).map((row, i) => Math.sqrt(row[i]!))
    const freedom = fit.residuals.length - fit.parameters.length
    expect(fit.isSettled).toBe(true)
    expect(fit.parameters[0]! / 238.94212918).toBeCloseTo(1, 7)
    expect(fit.parameters[1]! / 5.5015643181e-4).toBeCloseTo(1, 7)
    expect(errors[0]! / 2.7070075241).toBeCloseTo(1, 6)
    expect(errors[1]! / 7.2668688436e-6).toBeCloseTo(1, 6)
    expect(Math.hypot(...fit.residuals) / Math.sqrt(freedom) / 0.1018787633).toBeCloseTo(1, 7)
    expect(freedom).toBe(12)
  })

  it('gives two parameters that do the same no error that could be taken for knowledge', () => {
    const predict = ([a, b]: readonly number[]) => [1, 2, 3].map((x) => a! * b! * x)
    const fit = fitNonlinear({ predict, y: [2.1, 3.9, 6], start: [1, 1] })
    const errors = covarianceAt(predict, fit.parameters, fit.residuals).map((row, i) => Math.sqrt(row[i]!))
    expect(errors.every((one) => !(one < 1000))).toBe(true)
  })
})

describe('effectiveCount', () => {
  const normal = createNormal(createRandom(7))
  const chain = (correlation: number, count: number) => {
    let last = normal()
    return Array.from({ length: count }, () => {
      last = correlation * last + Math.sqrt(1 - correlation ** 2) * normal()
      return last
    })
  }

  it.each([0, 0.3, 0.6, 0.8])(
    'is n(1 − φ)/(1 + φ) for a first-order chain with φ = %s (Bayley & Hammersley 1946)',
    (correlation) => {
      const shares = Array.from({ length: 40 }, () => effectiveCount(chain(correlation, 2000)) / 2000)
      const mean = shares.reduce((sum, one) => sum + one, 0) / shares.length
      const expected = (1 - correlation) / (1 + correlation)
      // the sum ends at the first lag that is not positive, so the estimate scatters by a tenth
      expect(mean / expected).toBeGreaterThan(0.85)
      expect(mean / expected).toBeLessThan(1.12)
    },
  )

  // U = t₉₅(w − 1)·s/√w, what a captured point states of scatter alone. 95 % is the definition; 92 % what the trial asks.
  it.each([
    [20, 0, 0.93],
    [20, 0.3, 0.93],
    [20, 0.6, 0.93],
    [20, 0.8, 0.92],
    [20, 0.9, 0.92],
    [40, 0, 0.93],
    [40, 0.3, 0.93],
    [40, 0.6, 0.93],
    [40, 0.8, 0.93],
    [40, 0.9, 0.92],
    [60, 0, 0.93],
    [60, 0.6, 0.93],
    [60, 0.8, 0.93],
    [60, 0.9, 0.92],
    [200, 0, 0.93],
    [200, 0.6, 0.93],
    [200, 0.9, 0.93],
  ])(
    'gives the mean of %d readings with φ = %d an interval that holds the truth (drawn)',
    (count, correlation, least) => {
      const draws = 600
      let held = 0
      const halves: number[] = []
      for (let draw = 0; draw < draws; draw++) {
        const values = chain(correlation, count)
        const { mean, deviation } = lineOf(values)
        const worth = effectiveCount(values)
        const half = expandTypes(
          { standard: deviation / Math.sqrt(worth), freedom: worth - 1 },
          { standard: 0, widest: [0, 0] },
        )
        halves.push(half)
        if (Math.abs(mean) <= half) held++
      }
      // two standard errors of 600 draws are 0.02
      expect(held / draws).toBeGreaterThan(least - 0.02)
      // and it says something: below what twice the true scatter of the mean would ask, but for the longest memories
      const lags = Array.from({ length: count - 1 }, (_, k) => (1 - (k + 1) / count) * correlation ** (k + 1))
      const true95 = 1.96 * Math.sqrt((1 + 2 * lags.reduce((sum, one) => sum + one, 0)) / count)
      expect(median(halves) / true95).toBeLessThan(2.6)
    },
    30_000,
  )

  it('counts every reading of a sample without scatter', () => {
    expect(effectiveCount([3, 3, 3, 3])).toBe(4)
  })
})
