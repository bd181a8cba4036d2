import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import {
  decimalsOfUncertainty,
  formatCount,
  formatNumber,
  formatStep,
  NO_VALUE,
} from '../../../server/wire/numbers.ts'

describe('formatNumber with an uncertainty', () => {
  // Rule: JCGM 100:2008, 7.2.6. Rounded by hand.
  it.each([
    [847.2, 9.1, '847', '9'],
    [71.83, 1.04, '71.8', '1.0'],
    [24.0049, 0.11, '24.00', '0.11'],
    [0.0036049, 0.000018, '0.003605', '0.000018'],
    [8472, 91, '8470', '90'],
    [84_720, 1500, '84\u202f700', '1500'],
    [5.4, 0.96, '5.4', '1.0'],
    [-3.26, 0.2, '\u22123.3', '0.2'],
  ])('writes %d ± %d as %s ± %s', (value, u95, text, uncertainty) => {
    expect(formatNumber(value, { u95 })).toEqual({ text, uncertainty })
  })

  it('writes a value smaller than its uncertainty as zero without a minus', () => {
    expect(formatNumber(-0.02, { u95: 3 })).toEqual({ text: '0', uncertainty: '3' })
  })

  it('never shows a last digit that the uncertainty does not reach', () => {
    const positive = fc.double({ min: 1e-6, max: 1e6, noNaN: true })
    fc.assert(
      fc.property(positive, (u95) => {
        const step = 10 ** -decimalsOfUncertainty(u95)
        expect(u95 / step).toBeGreaterThanOrEqual(1 - 1e-9)
        expect(u95 / step).toBeLessThan(20)
      }),
    )
  })
})

describe('formatNumber without an uncertainty', () => {
  // Four significant digits, at most three decimals: house rule.
  it.each([
    [24.0049, '24.00'],
    [513, '513.0'],
    [1500.4, '1500'],
    [0.70012, '0.700'],
    [123_456.7, '123\u202f457'],
    [0, '0'],
    [1, '1'],
  ])('writes %d as %s', (value, text) => {
    expect(formatNumber(value)).toEqual({ text })
  })

  it('keeps the decimals of the usual size when the value is small', () => {
    expect(formatNumber(3.2, { usual: 1500 }).text).toBe('3')
  })

  it('ignores an uncertainty that is no number', () => {
    expect(formatNumber(513, { u95: Number.NaN })).toEqual({ text: '513.0' })
  })

  it.each([null, Number.NaN, Number.POSITIVE_INFINITY])('writes %s as a dash, never as 0', (value) => {
    expect(formatNumber(value)).toEqual({ text: NO_VALUE })
  })
})

describe('formatCount', () => {
  it('groups from five digits on', () => {
    expect([9999, 10_000, 1_234_567].map(formatCount)).toEqual(['9999', '10\u202f000', '1\u202f234\u202f567'])
  })
})

describe('formatStep', () => {
  it.each([
    [3.575, 0.025, '3.575'],
    [0.1 + 0.2, 0.1, '0.3'],
    [100, 1, '100'],
    [15_000, 5000, '15\u202f000'],
    [-0.5, 0.5, '\u22120.5'],
  ])('writes %d in steps of %d as %s', (value, step, text) => {
    expect(formatStep(value, step)).toBe(text)
  })
})
