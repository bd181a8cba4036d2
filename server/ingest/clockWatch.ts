/**
 * Tells a device whose clock was set back from one that empties its buffer. Both send times that lie behind; but a
 * clock goes on at the pace at which readings arrive, while a buffer is emptied faster.
 */
export interface ClockWatch {
  /**
   * @param at Time that the device gives [ms].
   * @param receivedAt Arrival [ms].
   * @param isLate Whether it lies behind what is known.
   * @returns How far the device's clock is behind [ms], once that is certain; else undefined.
   */
  behind(at: number, receivedAt: number, isLate: boolean): number | undefined
}

/** Readings must keep pace for this long [ms] before a clock is believed to have been set back. */
const PACE_MS = 1000
/** Share by which the pace may differ: networks delay some readings more than others. */
const PACE_SHARE = 0.2
/** A known lag may change by this much [ms] and still be the same clock. */
const SAME_CLOCK_MS = 5000

export function createClockWatch(): ClockWatch {
  let run: { at: number; receivedAt: number; last: number } | undefined
  let lag: number | undefined

  function keepsPace(at: number, receivedAt: number): boolean {
    if (!run || at <= run.last) {
      run = { at, receivedAt, last: at }
      return false
    }
    run.last = at
    const elapsed = receivedAt - run.receivedAt
    if (Math.abs(at - run.at - elapsed) > PACE_SHARE * Math.max(elapsed, PACE_MS)) {
      run = { at, receivedAt, last: at }
      return false
    }
    return elapsed >= PACE_MS
  }

  return {
    behind(at, receivedAt, isLate) {
      const now = receivedAt - at
      if (lag !== undefined && Math.abs(now - lag) <= SAME_CLOCK_MS) return lag
      lag = undefined
      if (!isLate) {
        run = undefined
        return undefined
      }
      if (!keepsPace(at, receivedAt)) return undefined
      run = undefined
      // So little is within what clocks may differ: from here on its own time is good again.
      if (now > SAME_CLOCK_MS) lag = now
      return now
    },
  }
}
