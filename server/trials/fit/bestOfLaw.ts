import {
  bootstrapResiduals,
  createRandom,
  type Interval,
  symmetricInterval,
} from '../../statistics/bootstrap.ts'
import { NORMAL_95 } from '../../statistics/normal.ts'
import { studentQuantile } from '../../statistics/studentT.ts'
import type { BestPoint } from '../../wire/findings.ts'
import { bestPoint, type Top, topOf } from './bestPoint.ts'
import type { Row } from './curveModel.ts'
import { column, gridOf, type LaidLaw } from './laid.ts'

const DRAWS = 1000

/**
 * Highest place of a law within the range of the points; its scatter comes from resampled residuals.
 *
 * Source: Efron & Tibshirani 1993, ch. 9.
 */
export function bestOfLaw({ request, curve, rows, parameters, residuals, shifted }: LaidLaw): BestPoint {
  const grid = gridOf(rows)
  const topFor = (own: readonly number[], places: readonly Row[] = grid) =>
    topOf(
      places.map((row) => curve.predict(own, row)),
      column(places, 'x'),
    )
  const best = topFor(parameters)
  const heights: number[] = []
  const { estimates } = bootstrapResiduals({
    fitted: rows.map((row) => curve.predict(parameters, row)),
    residuals,
    estimate: (y) => {
      const top = topFor(curve.fit(rows.map((row, i) => ({ ...row, y: y[i]! }))))
      heights.push(top.y)
      return top.x
    },
    draws: DRAWS,
    random: createRandom(request.seed),
    parameters: parameters.length,
  })
  // Few points know their own scatter badly; the t-factor of their freedom over the normal one says how badly.
  const widening = studentQuantile(0.95, rows.length - parameters.length) / NORMAL_95
  const tops = [...shifted.values()].map((one) => topFor(one.parameters, gridOf(one.rows)))
  const ends = (axis: keyof Pick<Top, 'x' | 'y'>, draws: number[]) => {
    const typeB = Math.hypot(...tops.map((one) => one[axis] - best[axis]))
    return join(best[axis], symmetricInterval(draws, 0.95), { widening, typeB })
  }
  const [x, y] = [ends('x', estimates), ends('y', heights)]
  const found = { ...best, parts: [[x.low, x.high]] as [number, number][], yLow: y.low, yHigh: y.high }
  return bestPoint(found, [grid[0]!['x']!, grid.at(-1)!['x']!])
}

/** Each end is as far away as type A and type B together put it. */
function join(
  value: number,
  drawn: Interval,
  { widening, typeB }: { widening: number; typeB: number },
): Interval {
  return {
    low: value - Math.hypot(widening * Math.max(0, value - drawn.low), NORMAL_95 * typeB),
    high: value + Math.hypot(widening * Math.max(0, drawn.high - value), NORMAL_95 * typeB),
  }
}
