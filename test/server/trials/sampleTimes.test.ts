import { describe, expect, it } from 'vitest'
import { createRandom } from '../../../server/statistics/bootstrap.ts'
import { everySample } from '../../../server/trials/capture/sampleTimes.ts'
import { steadinessOf } from '../../../server/trials/capture/steadiness.ts'

/** Instants of `count` samples [s]. */
function instants(count: number, seed: number): number[] {
  let step = () => {}
  let now = 0
  const clock = {
    now: () => now,
    mono: () => now,
    after: () => () => {},
    every(periodMs: number, task: () => void) {
      step = () => {
        now += periodMs
        task()
      }
      return () => {}
    },
  }
  const at: number[] = []
  everySample(clock, () => at.push(now / 1000), createRandom(seed))
  while (at.length < count) step()
  return at
}

describe('the instants of samples', () => {
  it('are half a second apart on average, and never less than 0.3 s or more than 0.7 s', () => {
    const at = instants(2000, 1)
    const gaps = at.slice(1).map((time, i) => time - at[i]!)
    expect(gaps.reduce((sum, gap) => sum + gap, 0) / gaps.length).toBeCloseTo(0.5, 1)
    expect(Math.min(...gaps)).toBeCloseTo(0.3, 9)
    expect(Math.max(...gaps)).toBeCloseTo(0.7, 9)
  })

  // what is right follows from how the windows are made: sampled each half second, those of 1.0 and 0.5 s look still
  it.each([0.5, 1, 1.5, 2])('do not let hunting by ±3 % every %d s pass for steady', (period) => {
    for (let seed = 1; seed <= 50; seed++) {
      const values = instants(40, seed).map((t) => 100 + 3 * Math.sin((2 * Math.PI * t) / period))
      expect(steadinessOf({ values, ratios: [] }, { share: 0.01, usual: 100 })).not.toBe('steady')
    }
  })
})
