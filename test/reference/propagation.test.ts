import { describe, expect, it } from 'vitest'
import {
  combineCorrelated,
  contributionsOf,
  correlation,
  covarianceOf,
  meanUncertainty,
  summarise,
} from '../../server/statistics/index.ts'
import { checkEach } from './check.ts'

const V = [5.007, 4.994, 5.005, 4.99, 4.999]
const I = [19.663, 19.639, 19.64, 19.685, 19.678].map((milliampere) => milliampere / 1000)
const PHI = [1.0456, 1.0438, 1.0468, 1.0428, 1.0433]
const samples = [V, I, PHI]
const means = samples.map((sample) => summarise(sample).mean)
const us = samples.map((sample) => meanUncertainty(summarise(sample).deviation, 5))
const r = samples.map((a) => samples.map((b) => correlation(a, b)))
const resistance = ([v, i, phi]: readonly number[]) => (v! / i!) * Math.cos(phi!)
const reactance = ([v, i, phi]: readonly number[]) => (v! / i!) * Math.sin(phi!)
const impedance = ([v, i]: readonly number[]) => v! / i!
const [zR, zX, zZ] = [resistance, reactance, impedance].map((model) => contributionsOf(model, means, us)) as [
  number[],
  number[],
  number[],
]
const between = (a: number[], b: number[]) =>
  covarianceOf(a, b, r) / (combineCorrelated(a, r) * combineCorrelated(b, r))
const H2 = 'JCGM 100 H.2; raw data from memory, means and results read, computed in full precision'

describe('correlated inputs, GUM H.2', () => {
  checkEach([
    { what: 'mean voltage', source: H2, got: () => means[0]!, want: 4.999, within: 1e-9 },
    { what: 'mean current', source: H2, got: () => means[1]!, want: 19.661e-3, within: 1e-9 },
    { what: 'mean phase', source: H2, got: () => means[2]!, want: 1.04446, within: 1e-9 },
    { what: 'u of voltage', source: H2, got: () => us[0]!, want: 0.0032094, plusMinus: 5e-8 },
    { what: 'u of current', source: H2, got: () => us[1]!, want: 9.471e-6, within: 1e-5 },
    { what: 'u of phase', source: H2, got: () => us[2]!, want: 7.52064e-4, within: 1e-5 },
    { what: 'r of voltage and current', source: H2, got: () => r[0]![1]!, want: -0.355311, within: 2e-6 },
    { what: 'r of voltage and phase', source: H2, got: () => r[0]![2]!, want: 0.857624, within: 2e-6 },
    { what: 'r of current and phase', source: H2, got: () => r[1]![2]!, want: -0.645111, within: 2e-6 },
    { what: 'R', source: H2, got: () => resistance(means), want: 127.73217, within: 1e-7 },
    { what: 'X', source: H2, got: () => reactance(means), want: 219.84651, within: 1e-7 },
    { what: 'Z', source: H2, got: () => impedance(means), want: 254.2597, within: 1e-7 },
    { what: 'u of R', source: H2, got: () => combineCorrelated(zR, r), want: 0.0710714, within: 1e-5 },
    { what: 'u of X', source: H2, got: () => combineCorrelated(zX, r), want: 0.2955817, within: 1e-5 },
    { what: 'u of Z', source: H2, got: () => combineCorrelated(zZ, r), want: 0.2363361, within: 1e-5 },
    { what: 'r of R and X', source: H2, got: () => between(zR, zX), want: -0.58843, within: 1e-5 },
    { what: 'r of R and Z', source: H2, got: () => between(zR, zZ), want: -0.485259, within: 1e-5 },
    { what: 'r of X and Z', source: H2, got: () => between(zX, zZ), want: 0.992512, within: 1e-5 },
    {
      what: 'u of R from the ROUNDED inputs, 1.5 % off,',
      source: `${H2}; a warning, not a result`,
      got: () => {
        const rounded = contributionsOf(resistance, means, [0.0032, 0.0095e-3, 0.00075])
        return combineCorrelated(rounded, [
          [1, -0.36, 0.86],
          [-0.36, 1, -0.65],
          [0.86, -0.65, 1],
        ])
      },
      want: 0.069979,
      within: 1e-4,
    },
  ])
  it('adds fully correlated contributions straight and cancels opposed ones', () => {
    expect(
      combineCorrelated(
        [0.3, 0.4],
        [
          [1, 1],
          [1, 1],
        ],
      ),
    ).toBeCloseTo(0.7, 12)
    expect(
      combineCorrelated(
        [0.1, -0.1],
        [
          [1, 1],
          [1, 1],
        ],
      ),
    ).toBe(0)
  })
  it('refuses correlations that contradict each other, and sizes that do not fit', () => {
    expect(
      combineCorrelated(
        [1, 1, -1],
        [
          [1, -0.9, 0.9],
          [-0.9, 1, 0.9],
          [0.9, 0.9, 1],
        ],
      ),
    ).toBeNaN()
    expect(() => combineCorrelated([1, 2], [[1]])).toThrow(RangeError)
    expect(() => contributionsOf(impedance, [1, 2], [1])).toThrow(RangeError)
    expect(() => correlation([1, 2], [1])).toThrow(RangeError)
  })
})
