import { describe, expect, it } from 'vitest'
import { agreesWithExpected, isBelow } from '../../../server/trials/checks/traceChecks.ts'
import type { TogetherAmount, TraceTogether } from '../../../server/wire/trace.ts'

// Whether a stated value lies within a 95 % interval, ends included: JCGM 100:2008, 6.2.1. Numbers by hand.

const amount = (id: string, more: Partial<TogetherAmount>): TogetherAmount => ({
  id,
  count: 3,
  name: id,
  symbol: id,
  unit: '1',
  viewUnit: '1',
  value: 10,
  deviation: null,
  low: 9,
  high: 11,
  expected: null,
  expectedFrom: 'plant file',
  compared: '',
  ...more,
})

const together = (...amounts: TogetherAmount[]): TraceTogether => ({ lacking: '', amounts, remarks: [] })
const NOTHING: TraceTogether = { lacking: 'One more trace.', amounts: [], remarks: [] }

describe('a check whether an amount agrees with what is expected', () => {
  it.each([
    ['inside', 10.5, 'holds'],
    ['at the end', 11, 'holds'],
    ['beyond', 11.1, 'fails'],
    ['below', 8.9, 'fails'],
    ['not known', null, 'unknown'],
  ])('is told with the expected value %s', (_where, expected, state) => {
    expect(agreesWithExpected('a').judge(together(amount('a', { expected })))).toMatchObject({ state })
  })

  it('cannot be told without an interval, and before there is a trace', () => {
    const open = together(amount('a', { expected: 10, low: null, high: null }))
    expect(agreesWithExpected('a').judge(open)).toMatchObject({ state: 'unknown' })
    expect(agreesWithExpected('a').judge(NOTHING)).toMatchObject({
      state: 'unknown',
      finding: 'One more trace.',
    })
  })
})

describe('a check whether one amount is below another', () => {
  it.each([
    ['smaller', { value: 8, low: 7, high: 9 }, 'holds'],
    ['larger, the intervals apart', { value: 14, low: 12, high: 16 }, 'fails'],
    ['larger, the intervals over each other', { value: 11, low: 10, high: 12 }, 'unknown'],
  ])('is told where it is %s', (_how, more, state) => {
    expect(isBelow('b', 'a').judge(together(amount('a', {}), amount('b', more)))).toMatchObject({ state })
  })

  it('cannot be told before both are there', () => {
    expect(isBelow('b', 'a').judge(together(amount('a', {})))).toMatchObject({ state: 'unknown' })
  })
})
