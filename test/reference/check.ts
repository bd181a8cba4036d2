import { expect, it } from 'vitest'

/** One number from outside, and how far ours may be from it. */
export interface Check {
  /** Subject of the sentence "… is <want> (<source>)". */
  what: string
  /** Document and table or example, and how it was obtained: read, computed, or from memory. */
  source: string
  got: () => number
  want: number
  /** Relative to `want`; the default is 1e-6. */
  within?: number
  /** In the unit of `want`; replaces `within`. */
  plusMinus?: number
}

/** One test for each line; the title is a sentence with its source. */
export function checkEach(checks: readonly Check[]): void {
  for (const { what, source, got, want, within = 1e-6, plusMinus } of checks) {
    it(`${what} is ${want} (${source})`, () => {
      expect(Math.abs(got() - want)).toBeLessThanOrEqual(plusMinus ?? Math.abs(want) * within)
    })
  }
}

/** Radians of degrees. */
export const degrees = (value: number) => (value * Math.PI) / 180

/** Angular speed of revolutions per minute. */
export const rpm = (value: number) => (value * 2 * Math.PI) / 60

/** Kelvin of degrees Celsius. */
export const celsius = (value: number) => value + 273.15
