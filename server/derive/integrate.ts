/**
 * One step of a counter: the integral of a figure over time by the trapezoid rule between good samples.
 *
 * Gap rules [default]: up to 5 s between two samples is read as a straight line; 5 to 60 s as the last value held,
 * counted as uncertain; longer is not integrated and adds to the gap. Time never runs backwards.
 * Source: trapezoid rule; the gap limits are common practice, no source.
 */
export interface CounterState {
  /** SI: J, m³, s or a count. */
  value: number
  /** Time of the last sample that was taken in [ms UTC]; null before the first. */
  at: number | null
  /** Value of the figure at `at`; null inside a gap. */
  last: number | null
  gapSeconds: number
  uncertainSeconds: number
}

export const STRAIGHT_MS = 5000
export const HELD_MS = 60_000

/**
 * @param state Before the sample.
 * @param at Time of the sample [ms UTC].
 * @param rate Figure at that time in SI per second; NaN when it cannot be given.
 * @returns After the sample; the same object when the sample is not newer.
 */
export function integrate(state: CounterState, at: number, rate: number): CounterState {
  if (Number.isNaN(rate)) return state
  if (state.at === null) return { ...state, at, last: rate }
  const stepMs = at - state.at
  if (stepMs <= 0) return state
  const seconds = stepMs / 1000
  if (state.last === null || stepMs > HELD_MS)
    return { ...state, at, last: rate, gapSeconds: state.gapSeconds + seconds }
  if (stepMs > STRAIGHT_MS) {
    const value = state.value + state.last * seconds
    return { ...state, value, at, last: rate, uncertainSeconds: state.uncertainSeconds + seconds }
  }
  return { ...state, value: state.value + ((state.last + rate) / 2) * seconds, at, last: rate }
}
