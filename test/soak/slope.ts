import { fitLinear } from '../../server/statistics/regression.ts'
import { studentQuantile } from '../../server/statistics/studentT.ts'

/** Neighbouring samples are alike; means of so many stretches are so much less. */
const STRETCHES = 12

export interface Slope {
  /** Per hour. */
  perHour: number
  /** Half of the 95 % interval. */
  plusMinus: number
}

/**
 * How fast something grows: a straight line through the means of twelve stretches of time.
 *
 * @param hours Times of the samples, rising.
 * @returns undefined where there are too few samples.
 */
export function slopeOf(hours: readonly number[], values: readonly number[]): Slope | undefined {
  const size = Math.floor(hours.length / STRETCHES)
  if (size < 1) return undefined
  const skip = hours.length - size * STRETCHES
  const meansOf = (all: readonly number[]) =>
    Array.from({ length: STRETCHES }, (_, i) => meanOf(all.slice(skip + i * size, skip + (i + 1) * size)))
  const { coefficients, standardErrors, degreesOfFreedom } = fitLinear({
    columns: [meansOf(hours)],
    y: meansOf(values),
  })
  return {
    perHour: coefficients[1]!,
    plusMinus: studentQuantile(0.975, degreesOfFreedom) * standardErrors[1]!,
  }
}

function meanOf(values: readonly number[]): number {
  return values.reduce((sum, one) => sum + one, 0) / values.length
}
