import { describe, expect, it } from 'vitest'
import * as physics from '../../server/physics/index.ts'

/** Functions that take columns, tables or classes; their own tests say what a gap does to them. */
const NOT_SCALAR = new Set([
  'classifyLoopCurrent',
  'integrateTrapezoid',
  'interpolate',
  'velocityAreaDischarge',
])

/** Called with plausible positive numbers, so that every input plays a part: current > 0 charges, and so on. */
const scalars = Object.entries(physics).filter(
  (entry): entry is [string, (...args: number[]) => number] =>
    typeof entry[1] === 'function' && !NOT_SCALAR.has(entry[0]),
)

describe('a missing input', () => {
  it('is tried on every scalar formula (guards the tests below against an empty list)', () => {
    expect(scalars.length).toBeGreaterThan(80)
    expect(scalars.every(([, run]) => run.length > 0)).toBe(true)
  })

  it.each(scalars)('of %s gives no value, whichever input it is (house rule: NaN in, NaN out)', (_, run) => {
    for (let missing = 0; missing < run.length; missing++) {
      const args = Array.from({ length: run.length }, (__, i) => (i === missing ? NaN : 0.3 + 0.1 * i))
      expect(run(...args)).toBeNaN()
    }
  })

  it.each(scalars)(
    'left out of a call to %s gives no value either (a formula with too few arguments)',
    (_, run) => {
      expect(run()).toBeNaN()
    },
  )
})
