import { describe, expect, it } from 'vitest'
import { createRandom } from '../../server/statistics/bootstrap.ts'
import { type CusumState, cusumStep, ewmaLimits, ewmaStep } from '../../server/statistics/controlChart.ts'
import { quantileInterpolated } from '../../server/statistics/quantiles.ts'
import { startSteadiness, stepSteadiness, USUAL_WEIGHTS } from '../../server/statistics/steadyState.ts'
import { CRITICAL_RATIO } from '../../server/trials/capture/steadiness.ts'
import { createNormal } from '../support/normal.ts'
import { checkEach } from './check.ts'

const EWMA_VALUES = [
  52, 47, 53, 49.3, 50.1, 47, 51, 50.1, 51.2, 50.5, 49.6, 47.6, 49.9, 51.3, 47.8, 51.2, 52.6, 52.4, 53.6,
  52.1,
]
const EWMA_WANTED = [
  50.6, 49.52, 50.56, 50.18, 50.16, 49.21, 49.75, 49.85, 50.26, 50.33, 50.11, 49.36, 49.52, 50.05, 49.38,
  49.92, 50.73, 51.23, 51.94, 51.99,
]
const EWMA_SOURCE = 'NIST/SEMATECH e-Handbook 6.3.2.4, read in a transcription'

describe('exponentially weighted moving average', () => {
  const averages: number[] = []
  for (const value of EWMA_VALUES) averages.push(ewmaStep(averages.at(-1) ?? 50, value, 0.3))
  const limits = ewmaLimits({ target: 50, deviation: 2.0539, weight: 0.3, width: 3 })
  checkEach([
    ...EWMA_WANTED.map((want, i) => ({
      what: `value ${i + 1}`,
      source: EWMA_SOURCE,
      got: () => averages[i]!,
      want,
      plusMinus: 0.00501,
    })),
    {
      what: 'upper limit',
      source: `${EWMA_SOURCE}, recomputed`,
      got: () => limits.high,
      want: 52.58843,
      plusMinus: 1e-5,
    },
    {
      what: 'lower limit',
      source: `${EWMA_SOURCE}, recomputed; the page truncates to 47.4115`,
      got: () => limits.low,
      want: 47.41157,
      plusMinus: 1e-5,
    },
  ])
})

const CUSUM_VALUES = [
  324.925, 324.675, 324.725, 324.35, 325.35, 325.225, 324.125, 324.525, 325.225, 324.6, 324.625, 325.15,
  328.325, 327.25, 327.825, 328.5, 326.675, 327.775, 326.875, 328.35,
]
const CUSUM_SOURCE = 'NIST/SEMATECH e-Handbook 6.3.2.3, data from memory, sums computed for the project'

describe('cumulative sums', () => {
  const sums: CusumState[] = []
  for (const value of CUSUM_VALUES) {
    sums.push(cusumStep(sums.at(-1) ?? { high: 0, low: 0 }, value, { target: 325, allowance: 0.3175 }))
  }
  checkEach([
    ...[3.0075, 4.94, 7.4475, 10.63, 11.9875, 14.445, 16.0025, 19.035].map((want, i) => ({
      what: `upper sum of group ${i + 13}`,
      source: CUSUM_SOURCE,
      got: () => sums[i + 12]!.high,
      want,
      plusMinus: 1e-9,
    })),
    {
      what: 'largest lower sum',
      source: CUSUM_SOURCE,
      got: () => Math.max(...sums.map(({ low }) => low)),
      want: 0.715,
      plusMinus: 1e-9,
    },
  ])
  it('first passes h 4.1959 at group 14 (same source)', () => {
    expect(sums.findIndex(({ high, low }) => high > 4.1959 || low > 4.1959) + 1).toBe(14)
  })
})

/** λ₁ λ₂ λ₃, then quantiles of R at .90 .95 .975 .99 for white noise. */
const RATIO_QUANTILES: [[number, number, number], number[]][] = [
  [
    [0.2, 0.1, 0.1],
    [1.315, 1.439, 1.563, 1.73],
  ],
  [
    [0.1, 0.1, 0.1],
    [1.35, 1.492, 1.638, 1.835],
  ],
  [
    [0.05, 0.05, 0.05],
    [1.238, 1.326, 1.412, 1.524],
  ],
]

describe('steadiness ratio of white noise', () => {
  const SIMULATED = '60 000 chains simulated for the project'
  for (const [[mean, spread, difference], wants] of RATIO_QUANTILES) {
    it(`with weights ${mean}, ${spread}, ${difference} has quantiles ${wants.join(', ')} at .90, .95, .975, .99 (${SIMULATED})`, () => {
      const normal = createNormal(createRandom(5))
      const ratios: number[] = []
      let state = startSteadiness(normal())
      for (let i = 0; i < 600_000; i++) {
        state = stepSteadiness(state, normal(), { mean, spread, difference })
        if (i > 500) ratios.push(state.ratio)
      }
      // One chain of 600 000 is worth some 40 000 independent ratios: at .99 its own scatter is already 0.008.
      for (const [i, p] of [0.9, 0.95, 0.975, 0.99].entries()) {
        expect(Math.abs(quantileInterpolated(ratios, p) - wants[i]!)).toBeLessThan(p > 0.98 ? 0.02 : 0.01)
      }
    })
  }
  it('is far above the critical ratio on a ramp and stays silent on a held value (by reasoning)', () => {
    let ramp = startSteadiness(0)
    for (let i = 1; i < 100; i++) ramp = stepSteadiness(ramp, i, USUAL_WEIGHTS)
    // A unit ramp ends at lag 1/λ₁ = 5: R = 1.8·25/1 = 45.
    expect(ramp.ratio).toBeCloseTo(45, 1)
    expect(ramp.ratio).toBeGreaterThan(CRITICAL_RATIO)
    expect(stepSteadiness(startSteadiness(3), 3, USUAL_WEIGHTS).ratio).toBeNaN()
  })
})
