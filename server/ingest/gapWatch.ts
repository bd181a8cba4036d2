/** So many gaps tell how often something comes: their middle one is not moved by a pause or a burst. */
const GAPS = 9
const FEWEST = 5

/** How often messages come, learnt from the last few. */
export interface GapWatch {
  /** @param at Arrival [ms]. */
  note(at: number): void
  /** Median of the last gaps [ms]; null while too few came. */
  every(): number | null
}

export function createGapWatch(): GapWatch {
  const gaps = new Float64Array(GAPS)
  let count = 0
  let last = Number.NaN
  return {
    note(at) {
      const gap = at - last
      last = at
      // the clock may be set back
      if (gap >= 0) gaps[count++ % GAPS] = gap
    },
    every() {
      const known = Math.min(count, GAPS)
      return known < FEWEST ? null : gaps.slice(0, known).sort()[known >> 1]!
    },
  }
}
