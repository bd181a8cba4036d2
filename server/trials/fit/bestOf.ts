import { bootstrapResiduals, type Interval, symmetricInterval } from '../../statistics/bootstrap.ts'
import { NORMAL_95 } from '../../statistics/normal.ts'
import { createRandom } from '../../statistics/randomGenerator.ts'
import { studentQuantile } from '../../statistics/studentT.ts'
import type { BestPoint } from '../../wire/findings.ts'
import type { PreparedCurve, Row } from './curveModel.ts'
import { gridOf, type Laid } from './layCurve.ts'

const DRAWS = 1000

/**
 * Highest place of the curve within the range of the points; its scatter comes from resampled residuals. Beyond the
 * points a curve says nothing, so the interval ends there at the latest and says so.
 */
export function bestOf({ curve, rows, parameters, residuals, ...laid }: Laid): BestPoint {
  const { seed } = laid.request
  const shifted = [...laid.shifted.values()]
  const grid = gridOf(rows)
  const best = maximumOf(curve, parameters, grid)
  const fittedY = rows.map((row) => curve.predict(parameters, row))
  const heights: number[] = []
  const { estimates } = bootstrapResiduals({
    fitted: fittedY,
    residuals,
    estimate: (y) => {
      const drawn = curve.fit(rows.map((row, i) => ({ ...row, y: y[i]! })))
      const top = maximumOf(curve, drawn, grid)
      heights.push(top.y)
      return top.x
    },
    draws: DRAWS,
    random: createRandom(seed),
    parameters: parameters.length,
  })
  // Few points know their own scatter badly; the t-factor of their freedom over the normal one says how badly.
  const widening = studentQuantile(0.95, rows.length - parameters.length) / NORMAL_95
  const tops = shifted.map((one) => maximumOf(curve, one.parameters, gridOf(one.rows)))
  const ends = (value: number, draws: number[], shifts: number[]) =>
    join(value, symmetricInterval(draws, 0.95), { widening, typeB: Math.hypot(...shifts) })
  const x = ends(
    best.x,
    estimates,
    tops.map((one) => one.x - best.x),
  )
  const y = ends(
    best.y,
    heights,
    tops.map((one) => one.y - best.y),
  )
  const [first, last] = [grid[0]!['x']!, grid.at(-1)!['x']!]
  return {
    x: best.x,
    xLow: Math.max(first, x.low),
    xHigh: Math.min(last, x.high),
    isOpen: x.low < first || x.high > last,
    y: best.y,
    yLow: y.low,
    yHigh: y.high,
    isAtEnd: best.isAtEnd,
  }
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

/** Highest place of the curve: the best of the grid, then a parabola through it and its neighbours. */
function maximumOf(curve: PreparedCurve, parameters: readonly number[], grid: readonly Row[]) {
  const y = grid.map((row) => curve.predict(parameters, row))
  const top = y.reduce((best, value, i) => (value > y[best]! ? i : best), 0)
  const isAtEnd = top === 0 || top === grid.length - 1
  if (isAtEnd) return { x: grid[top]!['x']!, y: y[top]!, isAtEnd }
  const [before, here, after] = [y[top - 1]!, y[top]!, y[top + 1]!]
  const bend = before - 2 * here + after
  const shift = bend === 0 ? 0 : (before - after) / (2 * bend)
  const step = grid[1]!['x']! - grid[0]!['x']!
  return { x: grid[top]!['x']! + shift * step, y: here - ((before - after) * shift) / 4, isAtEnd }
}
