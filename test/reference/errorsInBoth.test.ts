import { describe, expect, it } from 'vitest'
import { fitCurveInBoth, fitLineInBoth } from '../../server/statistics/index.ts'

/**
 * Data of Pearson 1901 with the weights of York 1966, as in York et al. 2004, Am. J. Phys. 72:367, table I (from memory;
 * the same table stands in many later papers).
 */
const x = [0, 0.9, 1.8, 2.6, 3.3, 4.4, 5.2, 6.1, 6.5, 7.4]
const y = [5.9, 5.4, 4.4, 4.6, 3.5, 3.7, 2.8, 2.8, 2.4, 1.5]
const ux = [1000, 1000, 500, 800, 200, 80, 60, 20, 1.8, 1].map((weight) => weight ** -0.5)
const uy = [1, 1.8, 4, 8, 20, 20, 70, 70, 100, 500].map((weight) => weight ** -0.5)

describe('fitLineInBoth', () => {
  it('gives the published line through the data of Pearson with the weights of York', () => {
    const line = fitLineInBoth({ x, y, ux, uy })
    expect(line.intercept).toBeCloseTo(5.47991022, 7)
    expect(line.slope).toBeCloseTo(-0.480533407, 8)
    // York et al. 2004, table II (from memory): S = 11.8664, errors 0.29497 and 0.05799
    expect(line.chiSquare).toBeCloseTo(11.8664, 4)
    expect(line.interceptError).toBeCloseTo(0.295, 3)
    expect(line.slopeError).toBeCloseTo(0.058, 3)
    expect(line.degreesOfFreedom).toBe(8)
  })

  it('gives the published orthogonal line where all weights are equal (Pearson 1901: y = 5.7843 − 0.54556·x)', () => {
    const equal = x.map(() => 0.1)
    const line = fitLineInBoth({ x, y, ux: equal, uy: equal })
    expect(line.slope).toBeCloseTo(-0.54556, 4)
    expect(line.intercept).toBeCloseTo(5.7843, 3)
  })

  it('is ordinary least squares where only y scatters (slope −0.53958, Σ(x−x̄)(y−ȳ)/Σ(x−x̄)²)', () => {
    const line = fitLineInBoth({ x, y, ux: x.map(() => 1e-9), uy: x.map(() => 0.1) })
    expect(line.slope).toBeCloseTo(-0.5395773, 5)
  })
})

describe('fitCurveInBoth', () => {
  it('finds the same line as York, from the other formula', () => {
    const fit = fitCurveInBoth({
      ...{ x, y, ux, uy },
      predict: ([a, b], _, place) => a! + b! * place,
      start: [5.8, -0.54],
    })
    expect(fit.isSettled).toBe(true)
    expect(fit.parameters[0]).toBeCloseTo(5.47991022, 5)
    expect(fit.parameters[1]).toBeCloseTo(-0.480533407, 6)
  })
})
