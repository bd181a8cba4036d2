import { effectiveCount } from '../../../statistics/autocorrelation.ts'
import { fitPolynomial } from '../../../statistics/regression.ts'
import type { Series } from '../readings.ts'

/** Value and slope of a series at one time, with standard uncertainties from the scatter about the fit. */
export interface LocalFit {
  value: number
  slope: number
  slopeStandard: number
}

const DEGREE = 3
const FEWEST = 12

/**
 * Slope by a polynomial of degree 3 through the readings within `halfWidth` seconds of `at`, in time from there: its
 * second coefficient. Differences of neighbouring readings would have √2·s/Δt as uncertainty, some hundred times more.
 *
 * @param at Time [ms UTC] at which value and slope are wanted; it may lie at the edge of the readings.
 * @returns Undefined with fewer than 12 readings. The uncertainty counts readings that repeat each other once
 *   (`effectiveCount` of the residuals).
 *
 * Limits: the window must be short against the time in which the fourth derivative matters.
 * Source: Savitzky & Golay 1964 (local polynomial), JCGM 100:2008 4.2 for the scatter; both from memory.
 */
export function localFit(series: Series, at: number, halfWidth: number): LocalFit | undefined {
  const seconds: number[] = []
  const values: number[] = []
  for (const [i, time] of series.at.entries()) {
    const from = (time - at) / 1000
    if (Math.abs(from) > halfWidth) continue
    seconds.push(from)
    values.push(series.value[i]!)
  }
  if (seconds.length < FEWEST) return undefined
  const fit = fitPolynomial(seconds, values, DEGREE)
  const repeats = Math.sqrt(values.length / effectiveCount(fit.residuals))
  return {
    value: fit.coefficients[0]!,
    slope: fit.coefficients[1]!,
    slopeStandard: fit.standardErrors[1]! * repeats,
  }
}

/** A smooth curve through a series: at each of these places the local fit there. */
export function smoothCurve({ at, value }: Series, places: readonly number[], halfWidth: number): number[] {
  return places.map((place) => {
    const here = at[place]!
    const near = at.flatMap((time, i) => (Math.abs(time - here) <= halfWidth * 1000 ? [i] : []))
    if (near.length <= DEGREE + 1) return value[place]!
    const x = near.map((i) => (at[i]! - here) / 1000)
    return fitPolynomial(
      x,
      near.map((i) => value[i]!),
      DEGREE,
    ).coefficients[0]!
  })
}

/** Part of a series from one time to another [ms UTC], both included. */
export function partBetween({ at, value }: Series, from: number, to: number): Series {
  const places = at.flatMap((time, i) => (time >= from && time <= to ? [i] : []))
  return { at: places.map((i) => at[i]!), value: places.map((i) => value[i]!), doubtful: [] }
}

/** At most `most` places, evenly spread, the last one among them. */
export function spread(count: number, most: number): number[] {
  if (count <= most) return Array.from({ length: count }, (_, i) => i)
  return Array.from({ length: most }, (_, i) => Math.round((i * (count - 1)) / (most - 1)))
}
