import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import { type CounterState, integrate } from '../../../server/derive/integrate.ts'

const EMPTY: CounterState = { value: 0, at: null, last: null, gapSeconds: 0, uncertainSeconds: 0, u95: 0 }

function run(samples: [atSeconds: number, rate: number][]): CounterState {
  return samples.reduce((state, [at, rate]) => integrate(state, { at: at * 1000, rate }), EMPTY)
}

describe('integrate', () => {
  it('gives 1 149 000 J for the uneven trapezoid of the worked example 9.1 when sampled densely enough', () => {
    // computed example: t = 0, 60, 120, 300, 600, 900 s; P = 0, 1000, 1200, 1500, 1500, 900 W → 1 149 000 J
    const corners: [number, number][] = [
      [0, 0],
      [60, 1000],
      [120, 1200],
      [300, 1500],
      [600, 1500],
      [900, 900],
    ]
    const samples: [number, number][] = [[0, 0]]
    corners.slice(1).forEach(([t, p], i) => {
      const [t0, p0] = corners[i]!
      for (let s = 5; s <= t - t0; s += 5) samples.push([t0 + s, p0 + ((p - p0) * s) / (t - t0)])
    })
    expect(run(samples).value).toBeCloseTo(1_149_000, 3)
  })

  it('reads a gap of up to 5 s as a straight line', () => {
    expect(
      run([
        [0, 100],
        [5, 200],
      ]),
    ).toMatchObject({ value: 750, gapSeconds: 0, uncertainSeconds: 0 })
  })

  it('holds the last value over 5 to 60 s and counts them as uncertain', () => {
    expect(
      run([
        [0, 100],
        [30, 200],
      ]),
    ).toMatchObject({ value: 3000, gapSeconds: 0, uncertainSeconds: 30 })
  })

  it('does not integrate over more than 60 s and counts the gap', () => {
    expect(
      run([
        [0, 100],
        [61, 200],
        [62, 200],
      ]),
    ).toMatchObject({ value: 200, gapSeconds: 61 })
  })

  it('leaves a value that cannot be given out', () => {
    expect(
      run([
        [0, 100],
        [1, Number.NaN],
        [2, 100],
      ]),
    ).toMatchObject({ value: 200 })
  })

  it('never counts a moment twice and never runs backwards for a quantity that is not negative', () => {
    const sample = fc.tuple(fc.integer({ min: 0, max: 200 }), fc.double({ min: 0, max: 1e5, noNaN: true }))
    fc.assert(
      fc.property(fc.array(sample, { maxLength: 40 }), (samples) => {
        let state = EMPTY
        for (const [at, rate] of samples) {
          const next = integrate(state, { at: at * 1000, rate })
          expect(next.value).toBeGreaterThanOrEqual(state.value)
          expect(integrate(next, { at: at * 1000, rate })).toBe(next)
          state = next
        }
      }),
      { seed: 20261125 },
    )
  })
})
