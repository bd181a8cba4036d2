import { describe, expect, it } from 'vitest'
import { createRandom } from '../../server/statistics/bootstrap.ts'
import { combineUncertainties } from '../../server/statistics/uncertainty.ts'
import { lineOf } from '../../server/trials/capture/steadiness.ts'
import { createNormal } from '../support/normal.ts'
import { symmetricInterval } from '../support/symmetricInterval.ts'

/** JCGM 101:2008 allows the result to be checked by drawing; the seed makes every run the same. */
const DRAWS = 200_000
const random = createRandom(20261125)
const normal = createNormal(random)
const rectangular = (low: number, high: number) => low + (high - low) * random()
const draw = (model: () => number) => Array.from({ length: DRAWS }, model)
/** A rectangular quantity of standard uncertainty u. */
const flat = (u: number) => rectangular(-Math.sqrt(3) * u, Math.sqrt(3) * u)

describe('Monte Carlo after JCGM 101', () => {
  it('gives u 2.00 and ±3.92 for four summed N(0, 1) (JCGM 101 9.2.2, from memory, simulated for the project)', () => {
    const values = draw(() => normal() + normal() + normal() + normal())
    expect(Math.abs(lineOf(values).deviation / 2 - 1)).toBeLessThan(0.006)
    const { low, high } = symmetricInterval(values, 0.95)
    expect(Math.abs(low + 3.92)).toBeLessThan(0.04)
    expect(Math.abs(high - 3.92)).toBeLessThan(0.04)
  })

  it('gives ±17.0 where the law of propagation gives ±19.9 (JCGM 101 9.2.4, from memory, simulated for the project)', () => {
    const values = draw(() => flat(1) + flat(1) + flat(1) + flat(10))
    const { low, high } = symmetricInterval(values, 0.95)
    expect(Math.abs(lineOf(values).deviation - 10.15)).toBeLessThan(0.05)
    expect(Math.abs(low + 17)).toBeLessThan(0.15)
    expect(Math.abs(high - 17)).toBeLessThan(0.15)
    const propagated = combineUncertainties([1, 1, 1, 10])
    expect(1.96 * propagated).toBeCloseTo(19.9, 1)
  })

  it('gives u 0.0754 mg and the interval [1.0834, 1.3825] for the mass calibration (JCGM 101 9.3, printed as the shortest one, the same as draws lie evenly about their mean, from memory, simulated for the project)', () => {
    const values = draw(() => {
      const reference = 100_000 + 0.05 * normal()
      const difference = 1.234 + 0.02 * normal()
      const air = rectangular(1.1, 1.3)
      const buoyancy = 1 + (air - 1.2) * (1 / rectangular(7000, 9000) - 1 / rectangular(7950, 8050))
      return (reference + difference) * buoyancy - 100_000
    })
    expect(Math.abs(lineOf(values).deviation / 0.0754 - 1)).toBeLessThan(0.006)
    const { low, high } = symmetricInterval(values, 0.95)
    expect(Math.abs(low - 1.0834)).toBeLessThan(0.008)
    expect(Math.abs(high - 1.3825)).toBeLessThan(0.008)
  })

  it('draws the same numbers from the same seed and others from the next (definition of a seed)', () => {
    const take = (seed: number) => Array.from({ length: 4 }, createRandom(seed))
    expect(take(7)).toEqual(take(7))
    expect(take(7)).not.toEqual(take(8))
  })

  it('draws uniformly: mean 0.5 and variance 1/12 (definition of the uniform distribution)', () => {
    const { mean, deviation } = lineOf(draw(random))
    expect(Math.abs(mean - 0.5)).toBeLessThan(0.003)
    expect(Math.abs(deviation ** 2 - 1 / 12)).toBeLessThan(0.001)
  })
})
