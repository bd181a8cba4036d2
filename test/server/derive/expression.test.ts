import { describe, expect, it } from 'vitest'
import { compileExpression, FormulaFault } from '../../../server/derive/expression.ts'
import { unitOf } from '../../../server/plant/units.ts'

const symbols = new Map(
  Object.entries({ Q: 'm3/s', H: 'm', p: 'Pa', n: 'rad/s', k: '1' }).map(([name, unit], slot) => [
    name,
    { slots: [slot], dimension: unitOf(unit).dimension },
  ]),
)
const column = Float64Array.of(0.012, 24, 2e5, 157, 0.5)

describe('compileExpression', () => {
  it.each([
    ['1 + 2 * 3', 7],
    ['2 ^ 3 ^ 2', 512],
    ['-2 ^ 2', -4],
    ['(1 + 2) * 3', 9],
    ['sqrt(16) + abs(-1)', 5],
    ['max(1, 3, 2) - min(1, 3, 2)', 2],
    ['k > 0.4 ? 10 : 20', 10],
    ['k > 0.4 and k < 0.45', 0],
    ['not (k > 0.9) or k == 2', 1],
    ['2 * pi', 2 * Math.PI],
  ])('computes %s', (text, expected) => {
    expect(compileExpression(text, symbols).evaluate(column)).toBeCloseTo(expected, 12)
  })

  it('gives the unit of a product of powers', () => {
    expect(compileExpression('p * Q', symbols).dimension).toEqual(unitOf('W').dimension)
    expect(compileExpression('sqrt(2 * standardGravity() * H)', symbols).dimension).toEqual(
      unitOf('m/s').dimension,
    )
  })

  it.each([
    ['H + Q', 'puts m and m^3·s^-1 together'],
    ['H > p', 'puts m and'],
    ['k ^ H', 'exponent must have no unit'],
    ['H ^ k', 'must be written as a number'],
    ['ln(H)', 'expects one plain number'],
    ['meanVelocity(H, Q)', 'argument 1 should be in m3/s'],
    ['Z * 2', '"Z" is not one of the inputs'],
    ['fetch(1)', 'function "fetch" is not known'],
    ['constructor(1)', 'function "constructor" is not known'],
    ['x = 3', 'is not allowed in a formula'],
    ['[1, 2]', 'is not allowed in a formula'],
    ['"text"', 'is not a number'],
    ['1 +', '1 +'],
  ])('refuses %s: %s', (text, message) => {
    expect(() => compileExpression(text, symbols)).toThrow(FormulaFault)
    expect(() => compileExpression(text, symbols)).toThrow(message)
  })

  it('passes a missing value on as missing', () => {
    const gap = Float64Array.from(column).fill(Number.NaN)
    expect(compileExpression('Q * H', symbols).evaluate(gap)).toBeNaN()
  })
})
