import { describe, expect, it } from 'vitest'
import { compileExpression, FormulaFault, ListFault } from '../../../server/derive/expression.ts'
import { unitOf } from '../../../server/wire/units.ts'

const symbols = new Map(
  Object.entries({ Q: 'm3/s', H: 'm', p: 'Pa', n: 'rad/s', k: '1' }).map(([name, unit], slot) => [
    name,
    { slots: [slot], dimension: unitOf(unit).dimension },
  ]),
)
const column = Float64Array.of(0.012, 24, 2e5, 157, 0.5)

/** Voltages 230, 231, 232 V in the first slots, currents 5, 6, 7 A behind them, then one jet. */
const phases = new Map([
  ['U', { slots: [0, 1, 2], dimension: unitOf('V').dimension, isList: true }],
  ['I', { slots: [3, 4, 5], dimension: unitOf('A').dimension, isList: true }],
  ['I_two', { slots: [3, 4], dimension: unitOf('A').dimension, isList: true }],
  ['j', { slots: [6], dimension: unitOf('1').dimension, isList: true }],
  ['k', { slots: [6], dimension: unitOf('1').dimension }],
])
const readings = Float64Array.of(230, 231, 232, 5, 6, 7, 0.5)

describe('a list in a formula', () => {
  // by hand
  it.each([
    ['sum(U * I)', 230 * 5 + 231 * 6 + 232 * 7],
    ['sum(k * U)', 0.5 * 693],
    ['mean(U) - min(U)', 1],
    ['sum(exp(j))', Math.exp(0.5)],
    ['sum(U * max(I))', 693 * 7],
    ['sum((U - mean(U)) ^ 2)', 2],
    ['sum(abs(U - max(U)) * I)', 2 * 5 + 6],
    ['sum(min(U) / U)', 1 + 230 / 231 + 230 / 232],
    ['phaseUnbalance(U)', 1 / 231],
  ])('counts member by member: %s', (text, expected) => {
    expect(compileExpression(text, phases).evaluate(readings)).toBeCloseTo(expected, 9)
  })

  it('has the unit of its members, and is checked for it', () => {
    expect(compileExpression('sum(U * I)', phases).dimension).toEqual(unitOf('W').dimension)
    expect(() => compileExpression('sum(U + I)', phases)).toThrow('puts')
  })

  it('goes with another list of its own length only, and stands in a function that makes one number of it', () => {
    expect(() => compileExpression('sum(U * I_two)', phases)).toThrow(ListFault)
    expect(() => compileExpression('U * 2', phases)).toThrow('is a list')
    expect(() => compileExpression('sqrt(U)', phases)).toThrow('is a list')
  })
})

describe('compileExpression', () => {
  it.each([
    ['1 + 2 * 3', 7],
    ['2 ^ 3 ^ 2', 512],
    ['-2 ^ 2', -4],
    ['(1 + 2) * 3', 9],
    ['sqrt(16) + abs(-1)', 5],
    // by hand: half-way, at a point, at both ends
    ['interpolate(k, 0, 10, 1, 20, 2, 50)', 15],
    ['interpolate(1, 0, 10, 1, 20, 2, 50)', 20],
    ['interpolate(0, 0, 10, 1, 20) + interpolate(2, 0, 10, 1, 20, 2, 50)', 60],
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
    ['interpolate(k, 1, 2)', 'expects x and then two points'],
    ['interpolate(k, 1, 2, 3)', 'expects x and then two points'],
    ['interpolate(H, 1, 2, 3, 4)', 'every x of the table in the unit of the first argument'],
    ['interpolate(k, 1, H, 3, Q)', 'every y in one unit'],
    ['interpolate(k, 1, 5, 0.5, 6)', '0.5 after 1: expects points with rising x'],
    ['interpolate(k, 1, 5, 1, 6)', '1 after 1: expects points with rising x'],
    ['meanVelocity(H, Q)', 'argument 1 should be in m3/s'],
    ['Z * 2', '"Z" is not one of the inputs'],
    ['fetch(1)', 'function "fetch" is not known'],
    ['constructor(1)', 'function "constructor" is not known'],
    ['toString > 1', 'symbol "toString" is not one of the inputs'],
    ['x = 3', 'is not allowed in a formula'],
    ['[1, 2]', 'is not allowed in a formula'],
    ['"text"', 'is not a number'],
    ['1 +', '1 +'],
  ])('refuses %s: %s', (text, message) => {
    expect(() => compileExpression(text, symbols)).toThrow(FormulaFault)
    expect(() => compileExpression(text, symbols)).toThrow(message)
  })

  it('has a table in the unit of what stands in it, and nothing outside of it or for a missing value', () => {
    const between = (text: string) => compileExpression(text, symbols)
    expect(between('interpolate(k, 0, H, 1, 2 * H)').dimension).toEqual(unitOf('m').dimension)
    expect(between('interpolate(k, 0, H, 1, 2 * H)').evaluate(column)).toBeCloseTo(36, 12)
    for (const text of [
      'interpolate(k, 1, 2, 3, 4)',
      'interpolate(k, 0, 2, 0.4, 4)',
      'interpolate(sqrt(-k), 0, 1, 1, 2)',
    ])
      expect(between(text).evaluate(column)).toBeNaN()
  })

  it('passes a missing value on as missing', () => {
    const gap = Float64Array.from(column).fill(Number.NaN)
    expect(compileExpression('Q * H', symbols).evaluate(gap)).toBeNaN()
  })
})
