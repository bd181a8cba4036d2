import { describe, expect, it } from 'vitest'
import { countCharge } from '../../../../server/trials/trace/reductions/chargeCount.ts'

const series = (value: number[]) => ({ at: value.map((_, i) => 1000 * i), value, doubtful: [] })
const shunt = { share: 0.01, zero: 2, fixed: 0.1, isRectangular: true, resolution: 0 }

describe('the limit of error of a charge that was counted', () => {
  // by hand: ±(1 % of |I − 2 A| + 0.1 A) of the mean current of each part, times its seconds
  it.each<[what: string, amperes: number[], limits: [into: number, out: number]]>([
    ['a steady charge', [5, 5, 5], [0.13 * 2, 0]],
    ['a steady discharge', [-5, -5], [0, 0.17]],
    ['a straight line through zero', [4, -4], [0.5 * 0.1, 0.5 * 0.14]],
    ['a line that ends in the rounding of a zero', [1, -5.55e-17], [0.115, 0]],
    ['a line that begins in it', [-5.55e-17, 1], [0.115, 0]],
    ['no current at all', [0, 0], [0.12, 0]],
  ])('is that of the shunt along %s', (_what, amperes, [into, out]) => {
    const count = countCharge(series(amperes), series(amperes.map(() => 24)), shunt)
    expect(count.limitIn).toBeCloseTo(into, 12)
    expect(count.limitOut).toBeCloseTo(out, 12)
  })
})
