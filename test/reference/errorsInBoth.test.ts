import { describe, expect, it } from 'vitest'
import { type CurveInBoth, fitCurveInBoth } from '../../server/statistics/errorsInBoth.ts'

/**
 * Data of Pearson 1901 with the weights of York 1966, as in York et al. 2004, Am. J. Phys. 72:367, table I (from memory;
 * the same table stands in many later papers).
 */
const x = [0, 0.9, 1.8, 2.6, 3.3, 4.4, 5.2, 6.1, 6.5, 7.4]
const y = [5.9, 5.4, 4.4, 4.6, 3.5, 3.7, 2.8, 2.8, 2.4, 1.5]
const ux = [1000, 1000, 500, 800, 200, 80, 60, 20, 1.8, 1].map((weight) => weight ** -0.5)
const uy = [1, 1.8, 4, 8, 20, 20, 70, 70, 100, 500].map((weight) => weight ** -0.5)

const line = (columns: Pick<CurveInBoth, 'ux' | 'uy'>) =>
  fitCurveInBoth({ x, y, ...columns, predict: ([a, b], _, place) => a! + b! * place, start: [5.8, -0.54] })

/** Standard errors of intercept and slope after York, from the points of the line that are nearest to the data. */
function errorsOf([a, b]: readonly number[], weights: readonly number[]) {
  const nearest = x.map((one, i) => one + b! * (y[i]! - a! - b! * one) * ux[i]! ** 2 * weights[i]!)
  const total = weights.reduce((sum, one) => sum + one, 0)
  const mean = nearest.reduce((sum, one, i) => sum + one * weights[i]!, 0) / total
  const spread = nearest.reduce((sum, one, i) => sum + weights[i]! * (one - mean) ** 2, 0)
  return { intercept: Math.sqrt(1 / total + mean ** 2 / spread), slope: 1 / Math.sqrt(spread) }
}

describe('a straight line fitted by fitCurveInBoth', () => {
  it('is the published one through the data of Pearson with the weights of York', () => {
    const fit = line({ ux, uy })
    expect(fit.isSettled).toBe(true)
    expect(fit.parameters[0]).toBeCloseTo(5.47991022, 7)
    expect(fit.parameters[1]).toBeCloseTo(-0.480533407, 8)
  })

  it('has deviations that give the published sum of squares and errors', () => {
    // York et al. 2004, table II (from memory): S = 11.8664, errors 0.29497 and 0.05799
    const { parameters, deviations } = line({ ux, uy })
    const weights = deviations.map((deviation) => deviation ** -2)
    const errors = errorsOf(parameters, weights)
    const sum = y.reduce(
      (squares, one, i) => squares + weights[i]! * (one - parameters[0]! - parameters[1]! * x[i]!) ** 2,
      0,
    )
    expect(sum).toBeCloseTo(11.8664, 4)
    expect(errors.intercept).toBeCloseTo(0.29497, 5)
    expect(errors.slope).toBeCloseTo(0.05799, 4)
  })

  it('is the published orthogonal line where all weights are equal (Pearson 1901: y = 5.7843 − 0.54556·x)', () => {
    const equal = x.map(() => 0.1)
    const { parameters } = line({ ux: equal, uy: equal })
    expect(parameters[1]).toBeCloseTo(-0.54556, 4)
    expect(parameters[0]).toBeCloseTo(5.7843, 3)
  })

  it('is ordinary least squares where only y scatters (slope −0.53958, Σ(x−x̄)(y−ȳ)/Σ(x−x̄)²)', () => {
    const { parameters } = line({ ux: x.map(() => 0), uy: x.map(() => 0.1) })
    expect(parameters[1]).toBeCloseTo(-0.5395773, 5)
  })
})
