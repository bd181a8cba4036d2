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
 * Steady: the scatter and the movement along a straight line both stay within the limit, neither end stands apart from the
 * rest (a change has not just begun, and one before the window has died out), and the median of the
 * Cao–Rhinehart ratio is below its critical value unless the scatter is below a quarter of the limit, where a
 * movement would not matter. A damped instrument has a high ratio too, though all is still: it is told from movement
 * by what it looks like (`isDamped`).
 *
 * Drawn, limits of 1 %: still readings of 0.2, 0.3, 0.4 % with a correlation of 0.8 are steady in 97, 84, 75 % of the windows
 * (by the ratio alone in 95, 44, 17 %); swings of 0.6 to 1 %, steps of 0.8 and 1 %, settling from 1.5 % within 1 to 5 s and
 * ramps of 1.2 % in no more than 6 %.
 *
 * Source: common practice for acceptance tests (scatter and drift limits); Cao & Rhinehart 1995.
 */
export function steadinessOf({ values, ratios }: Track, { share, usual }: SteadyLimit): SteadyView['state'] {
  if (values.length < 3 || values.some(Number.isNaN)) return 'unknown'
  const { mean, deviation, movement } = lineOf(values)
  const limit = share * Math.max(Math.abs(mean), QUARTER * Math.abs(usual))
  if (Math.abs(movement) > limit) return 'moving'
  if (deviation > limit) return 'scattering'
  if (isApartAtAnEnd(values, limit)) return 'moving'
  const known = ratios.filter((ratio) => !Number.isNaN(ratio))
  const isOrdered = known.length > 0 && median(known) > CRITICAL_RATIO && deviation > QUARTER * limit
  return isOrdered && !isDamped(values, limit) ? 'moving' : 'steady'
}

/** So many deviations of the rest the mean of a tenth, and a first sample alone, may stand apart by their scatter. */
const TENTH_APART = 2.4
const FIRST_APART = 3.5

/** Whether the oldest or the newest tenth, or the first sample alone, is more than half of the limit away from the rest. */
function isApartAtAnEnd(values: readonly number[], limit: number): boolean {
  const tenth = Math.max(2, Math.round(values.length / 10))
  if (values.length < 2 * tenth) return false
  const isApart = (end: readonly number[], rest: readonly number[], most: number) => {
    const { mean, deviation } = lineOf(rest)
    const apart = Math.abs(lineOf(end).mean - mean)
    // Not by scatter alone, but a whole limit is too much whatever the scatter.
    return apart > Math.min(limit, Math.max(limit / 2, most * deviation))
  }
  return (
    isApart(values.slice(-tenth), values.slice(0, -tenth), TENTH_APART) ||
    isApart(values.slice(0, tenth), values.slice(tenth), TENTH_APART) ||
    isApart(values.slice(0, 1), values.slice(tenth), FIRST_APART)
  )
}

/** Scatter that a damped instrument may have, as a share of the limit. */
const DAMPED = 0.65
/** A swing comes back with the other sign; damped noise seldom does by so much. */
const SWING = 0.45
/** Difference between first and last quarter, in deviations: a step or a settling has more. */
const SHIFT = 2

/** Readings that hang together, but neither swing nor go from one level to another. */
function isDamped(values: readonly number[], limit: number): boolean {
  const { mean, deviation } = lineOf(values)
  if (deviation > DAMPED * limit) return false
  const apart = values.map((value) => value - mean)
  const squares = apart.reduce((sum, one) => sum + one * one, 0)
  for (let lag = 2; lag <= values.length / 2; lag++) {
    let sum = 0
    for (let i = lag; i < apart.length; i++) sum += apart[i]! * apart[i - lag]!
    if (sum < -SWING * squares) return false
  }
  const quarter = Math.max(2, Math.round(values.length / 4))
  const shift = lineOf(values.slice(-quarter)).mean - lineOf(values.slice(0, quarter)).mean
  return Math.abs(shift) <= SHIFT * deviation
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
