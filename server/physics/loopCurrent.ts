/** The 4–20 mA loop. Currents are in ampere here, like every current inside. */

const LIVE_ZERO = 0.004
const SPAN = 0.016

/** Where a loop current lies. Only `measuring` carries a value that may be trusted. */
export type LoopBand = 'absent' | 'faultLow' | 'undefinedLow' | 'measuring' | 'undefinedHigh' | 'faultHigh'

/**
 * Value of a loop current:  y = low + (I − 4 mA)/16 mA·(high − low)
 *
 * @param current Loop current I [A].
 * @param low Value at 4 mA.
 * @param high Value at 20 mA.
 * @returns The value in the unit of `low` and `high`, extended straight outside 4–20 mA; classify the current too.
 *
 * Limits: a trustworthy measurement only in the band `measuring` of `classifyLoopCurrent`.
 * Example: 0.0038, 0, 10 → −0.125.
 * Source: IEC 60381-1 signal range.
 */
export function loopToValue(current: number, low: number, high: number): number {
  return low + ((current - LIVE_ZERO) / SPAN) * (high - low)
}

/**
 * Band of a loop current: ≤ 3.6 mA fault, 3.8–20.5 mA measuring, ≥ 21 mA fault, undefined between.
 *
 * @param current Loop current I [A]; NaN means no reading.
 * @returns The band. Compared to the nanoampere, so that 3.6 mA computed in floating point is a fault.
 *
 * Limits: transmitters that follow the recommendation; older ones may drive to 0 or 22 mA, which are faults too.
 * Example: 0.0206 → undefinedHigh.
 * Source: NAMUR NE 43 (3.6 seen in several texts; 3.8, 20.5 and 21 from memory).
 */
export function classifyLoopCurrent(current: number): LoopBand {
  if (Number.isNaN(current)) return 'absent'
  const nanoampere = Math.round(current * 1e9)
  if (nanoampere <= 3_600_000) return 'faultLow'
  if (nanoampere < 3_800_000) return 'undefinedLow'
  if (nanoampere <= 20_500_000) return 'measuring'
  return nanoampere < 21_000_000 ? 'undefinedHigh' : 'faultHigh'
}
