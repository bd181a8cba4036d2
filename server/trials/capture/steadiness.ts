import { median } from '../../statistics/quantiles.ts'
import type { SteadyView } from '../../wire/point.ts'

/** One figure over the newest samples, oldest first. */
export interface Track {
  values: readonly number[]
  /** Cao–Rhinehart ratios at the same samples; NaN where there is none yet. */
  ratios: readonly number[]
}

export interface SteadyLimit {
  /** Largest scatter and largest movement, as a share. */
  share: number
  /** A usual size: small values are judged by a quarter of it, or their noise would never be small enough. */
  usual: number
}

/** R above this tells movement from noise; the usual 1.44 is for independent readings, ours repeat each other a little. */
export const CRITICAL_RATIO = 2
const QUARTER = 0.25

/**
 * Steady: the scatter and the movement along a straight line both stay within the limit, the newest tenth lies within
 * half of it of the mean (a change has not just begun), and the median of the
 * Cao–Rhinehart ratio is below its critical value unless the scatter is below a quarter of the limit, where a
 * movement would not matter.
 *
 * Source: common practice for acceptance tests (scatter and drift limits); Cao & Rhinehart 1995.
 */
export function steadinessOf({ values, ratios }: Track, { share, usual }: SteadyLimit): SteadyView['state'] {
  if (values.length < 3 || values.some(Number.isNaN)) return 'unknown'
  const { mean, deviation, movement } = lineOf(values)
  const limit = share * Math.max(Math.abs(mean), QUARTER * Math.abs(usual))
  if (Math.abs(movement) > limit) return 'moving'
  if (deviation > limit) return 'scattering'
  const newest = values.slice(-Math.max(2, Math.round(values.length / 10)))
  if (Math.abs(lineOf(newest).mean - mean) > limit / 2) return 'moving'
  const known = ratios.filter((ratio) => !Number.isNaN(ratio))
  const isMoving = known.length > 0 && median(known) > CRITICAL_RATIO && deviation > QUARTER * limit
  return isMoving ? 'moving' : 'steady'
}

/** Mean, scatter, and what a straight line through the samples gains from first to last. */
export function lineOf(values: readonly number[]): { mean: number; deviation: number; movement: number } {
  const count = values.length
  const mean = values.reduce((sum, value) => sum + value, 0) / count
  const middle = (count - 1) / 2
  let squares = 0
  let cross = 0
  let spread = 0
  values.forEach((value, i) => {
    squares += (value - mean) ** 2
    cross += (i - middle) * (value - mean)
    spread += (i - middle) ** 2
  })
  return { mean, deviation: Math.sqrt(squares / (count - 1)), movement: (cross / spread) * (count - 1) }
}
