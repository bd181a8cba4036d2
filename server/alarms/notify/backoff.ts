const S = 1000
const MIN = 60 * S
const HOUR = 60 * MIN

/** Pause before each further attempt [ms]; an alarm is worth the first ones in quick succession. About a day in all. */
const PAUSES_MS = [
  5 * S,
  15 * S,
  45 * S,
  2 * MIN,
  5 * MIN,
  10 * MIN,
  20 * MIN,
  40 * MIN,
  HOUR,
  2 * HOUR,
  4 * HOUR,
  8 * HOUR,
  8 * HOUR,
]

/**
 * Pause [ms] before the next attempt: the schedule, 20 % more or less by chance so that not everything returns at
 * once, and never less than the other side asked for. Undefined: given up.
 *
 * @param attempts How often it was tried, from 1.
 * @param random Uniform in 0 … 1.
 */
export function pauseAfter(attempts: number, random: () => number, askedMs = 0): number | undefined {
  const pause = PAUSES_MS[attempts - 1]
  return pause === undefined ? undefined : Math.max(askedMs, pause * (0.8 + 0.4 * random()))
}
