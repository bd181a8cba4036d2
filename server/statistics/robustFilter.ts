/** Spike removal that says what it did. */
import { median, medianAbsoluteDeviation } from './quantiles.ts'

/** MAD times this estimates σ of a normal sample. */
const MAD_TO_DEVIATION = 1.4826

/** The filtered series and where it differs from the readings. */
export interface Filtered {
  values: number[]
  /** Indexes of the readings replaced by their window's median. */
  replaced: number[]
}

/**
 * Hampel filter: a reading further than k·1.4826·MAD from the median of its window is replaced by that median.
 *
 * @param values Readings in time order. A NaN stays NaN and is left out of its neighbours' windows.
 * @param halfWindow Readings on each side, a whole number ≥ 1; windows are cut short at the ends.
 * @param threshold k [–], usually 3.
 * @returns Filtered values and the indexes replaced. Not for alarms: over-speed must see the raw readings.
 * @throws {RangeError} for a half window below 1: a programming error.
 *
 * Limits: fewer than half of a window may be spikes. Where MAD is 0 (a held value) any departure is a spike.
 * Example: 1, 1, 9, 1, 1 with 2, 3 → index 2 becomes 1.
 * Source: Hampel 1974; Pearson 2002, IEEE Trans. Control Syst. Technol. 10:55 (from memory).
 */
export function hampelFilter(values: readonly number[], halfWindow: number, threshold: number): Filtered {
  if (!Number.isInteger(halfWindow) || halfWindow < 1) {
    throw new RangeError(`hampelFilter: half window ${halfWindow}, expected a whole number of at least 1`)
  }
  const replaced: number[] = []
  const filtered = values.map((value, index) => {
    const window = values
      .slice(Math.max(0, index - halfWindow), index + halfWindow + 1)
      .filter((neighbour) => !Number.isNaN(neighbour))
    const middle = median(window)
    if (!(Math.abs(value - middle) > threshold * MAD_TO_DEVIATION * medianAbsoluteDeviation(window))) {
      return value
    }
    replaced.push(index)
    return middle
  })
  return { values: filtered, replaced }
}
