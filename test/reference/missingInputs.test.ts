import { describe, expect, it } from 'vitest'
import { physicalFunctions } from '../../server/derive/physicalFunctions.ts'

/** Called with plausible positive numbers, so that every input plays a part. */
const functions = Object.entries(physicalFunctions).filter(([, { run }]) => run.length > 0)

describe('a missing input', () => {
  it('is tried on every physical function that formulas call (guards the test below against an empty list)', () => {
    expect(functions.length).toBe(Object.keys(physicalFunctions).length - 1)
  })

  it.each(functions)(
    'of %s gives no value, whichever input it is (house rule: NaN in, NaN out)',
    (_, { run }) => {
      for (let missing = 0; missing < run.length; missing++) {
        const args = Array.from({ length: run.length }, (__, i) => (i === missing ? NaN : 0.3 + 0.1 * i))
        expect(run(...args)).toBeNaN()
      }
    },
  )
})
