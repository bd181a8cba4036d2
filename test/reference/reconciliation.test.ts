import { describe, expect, it } from 'vitest'
import { reconcile } from '../../server/statistics/reconciliation.ts'

/** Streams 1 = 2 + 3, 2 = 4, 3 = 5, 4 + 5 = 6. */
const BALANCES = [
  [1, -1, -1, 0, 0, 0],
  [0, 1, 0, -1, 0, 0],
  [0, 0, 1, 0, -1, 0],
  [0, 0, 0, 1, 1, -1],
]
/** From memory: Narasimhan & Jordache 2000, example 1-1, heat exchanger with by-pass, unit variances. */
const MEASURED = [101.91, 64.45, 34.65, 64.2, 36.44, 98.88]
const RECONCILED = [100.22, 64.5, 35.72, 64.5, 35.72, 100.22]

const residualsOf = (values: readonly number[]) =>
  BALANCES.map((row) => row.reduce((sum, sign, j) => sum + sign * values[j]!, 0))

/** Balances of mass hold exactly; a trace of variance keeps V regular when a relation has no own uncertainty. */
const solve = (values: readonly number[]) =>
  reconcile({ residuals: residualsOf(values), contributions: BALANCES, ownVariances: [0, 0, 0, 0] })!

describe('data reconciliation', () => {
  it('gives the reconciled flows of the heat exchanger with by-pass (from memory: Narasimhan & Jordache, 1-1)', () => {
    const { corrections } = solve(MEASURED)
    const reconciled = MEASURED.map((value, j) => value + corrections[j]!)
    for (const [j, value] of RECONCILED.entries()) expect(reconciled[j]).toBeCloseTo(value, 2)
    for (const residual of residualsOf(reconciled)) expect(residual).toBeCloseTo(0, 10)
  })

  it('leaves the variances that the projection onto the balances leaves (by hand: two free flows)', () => {
    // Free flows a and b: a is seen in 2, 4 and in the sum, seen twice. (XᵀX)⁻¹ of X = [1 1; 1 0; 0 1; 1 0; 0 1; 1 1].
    const { remaining } = solve(MEASURED)
    const inverse = [
      [4 / 12, -2 / 12],
      [-2 / 12, 4 / 12],
    ]
    const sum = inverse[0]![0]! + inverse[1]![1]! + 2 * inverse[0]![1]!
    expect(remaining[1]! ** 2).toBeCloseTo(inverse[0]![0]!, 10)
    expect(remaining[0]! ** 2).toBeCloseTo(sum, 10)
  })

  it('has a χ² equal to the sum of squared corrections when the relations are exact (least squares)', () => {
    const { chiSquare, corrections } = solve(MEASURED)
    expect(chiSquare).toBeCloseTo(
      corrections.reduce((sum, one) => sum + one ** 2, 0),
      10,
    )
  })

  it('finds the flow that was made wrong, and its size', () => {
    const truth = [100, 64, 36, 64, 36, 100]
    for (const wrong of [1, 2, 3, 4]) {
      const { measurementTests, corrections, remaining } = solve(
        truth.map((value, j) => (j === wrong ? value + 8 : value)),
      )
      const largest = Math.max(...measurementTests.map(Math.abs))
      expect(Math.abs(measurementTests[wrong]!)).toBeCloseTo(largest, 10)
      expect(-corrections[wrong]! / (1 - remaining[wrong]! ** 2)).toBeCloseTo(8, 10)
    }
  })

  it('tests two flows alike that enter the one balance alike, with opposite signs (by inspection)', () => {
    const pair = reconcile({ residuals: [3], contributions: [[1, -1]], ownVariances: [0] })!
    expect(pair.measurementTests[0]).toBeCloseTo(3 / Math.SQRT2, 12)
    expect(pair.measurementTests[1]).toBeCloseTo(-3 / Math.SQRT2, 12)
  })

  it('blames the relation itself when only its assumption explains the residual', () => {
    const { relationTests, measurementTests } = reconcile({
      residuals: [0, 5],
      contributions: [
        [1, -1],
        [1, 0],
      ],
      ownVariances: [0.01, 1],
    })!
    expect(Math.abs(relationTests[1]!)).toBeGreaterThan(Math.abs(measurementTests[0]!))
  })

  it('gives nothing for a relation that is said twice without any uncertainty of its own', () => {
    const twice = [
      [1, -1],
      [1, -1],
    ]
    expect(reconcile({ residuals: [1, 1], contributions: twice, ownVariances: [0, 0] })).toBeUndefined()
  })

  it('takes two meters that err together for one error: their difference tells nothing of it (by hand)', () => {
    const input = {
      residuals: [2, 2],
      contributions: [
        [1, 0],
        [0, 1],
      ],
      ownVariances: [1, 1],
    }
    // Together: δ̂ = −(r₁ + r₂)/(2 + 1) of both, V = 1·1ᵀ + I. Each by itself: −r/(1 + 1).
    const joint = reconcile({ ...input, sets: [0, 0] })!
    expect(joint.corrections[0]).toBeCloseTo(-4 / 3, 12)
    expect(joint.corrections[1]).toBeCloseTo(-4 / 3, 12)
    expect(reconcile(input)!.corrections[0]).toBeCloseTo(-1, 12)
    // What remains of the common error: 1 − gᵀV⁻¹g = 1 − 2/3.
    expect(joint.remaining[0]! ** 2).toBeCloseTo(1 / 3, 12)
  })
})
