import { expect, it } from 'vitest'
import { bestSettings } from '../../../server/wire/bestWords.ts'
import type { BestPoint } from '../../../server/wire/findings.ts'

/** Four jets of 0.9 L/s each. */
const SETTINGS = [0.9, 1.8, 2.7, 3.6]

function best(x: number, ...parts: [number, number][]): BestPoint {
  const [xLow, xHigh] = [parts[0]![0], parts.at(-1)![1]]
  return {
    x,
    xLow,
    xHigh,
    parts,
    y: 1,
    yLow: 1,
    yHigh: 1,
    isAtEnd: false,
    isOpen: false,
    isWide: false,
    add: [],
  }
}

// what can be set follows from the jets: 2.8 L/s cannot
it.each([
  [best(2.8, [2.6, 3.6]), 'with 3 or 4 jets, not separable: repeat both to tell.'],
  [best(2.8, [2.75, 2.95]), 'with 3 jets.'],
  [best(3.1, [3, 3.2]), 'with 3 jets.'],
  [best(0.9, [0.9, 1.0]), 'with 1 jet.'],
  [best(2.5, [1.7, 3.6]), 'with 2, 3 or 4 jets, not separable: repeat them to tell.'],
  [best(3.6, [0.9, 1], [3.5, 3.6]), 'with 1 or 4 jets, not separable: repeat both to tell.'],
])('a best point is told in what can be set (%#)', (one, words) => {
  expect(bestSettings(one, SETTINGS)).toBe(words)
})
