/** Flow duration: how much water is there for which share of the time. */
import { quantileInterpolated, quantileWeibull } from './quantiles.ts'

/**
 * Discharge exceeded in a share of the time, Weibull plotting position i/(n + 1).
 *
 * @param discharges Record [m³/s], any order.
 * @param exceeded Share of the time p [–]: 0.95 for the low-flow figure Q95.
 * @returns Q_p [m³/s]. NaN for an empty record, a missing value, or p outside 1/(n+1)…n/(n+1).
 *
 * Limits: whole years, or the seasons weigh unequally. Say which plotting position was used: Q95 differs by 0.5 %.
 * Example: Nile at Aswan 1871–1970, 0.95 → 694.2.
 * Source: Weibull plotting position; WMO Guide to Hydrological Practices (from memory).
 */
export function exceededDischarge(discharges: readonly number[], exceeded: number): number {
  return quantileWeibull(discharges, 1 - exceeded)
}

/**
 * Discharge exceeded in a share of the time, by the interpolation most software uses (type 7).
 *
 * @param discharges Record [m³/s], any order.
 * @param exceeded Share of the time p [–].
 * @returns Q_p [m³/s]. NaN for an empty record or a missing value.
 *
 * Limits: as `exceededDischarge`.
 * Example: Nile at Aswan 1871–1970, 0.95 → 697.8.
 * Source: Hyndman & Fan 1996, Am. Stat. 50:361, type 7.
 */
export function exceededDischargeInterpolated(discharges: readonly number[], exceeded: number): number {
  return quantileInterpolated(discharges, 1 - exceeded)
}
