/** What the comparisons say against instruments, as it was first said of these. */
export interface Verdict {
  /** Ids; several where they cannot be told apart. */
  instruments: string[]
  /** E.g. "Shaft torque reads about 3.3 % high." */
  sentence: string
  /** [ms UTC]. */
  since: number
}

/** How the reason of a reading begins whose instrument is suspected. */
export const SUSPECTED = 'under suspicion'
