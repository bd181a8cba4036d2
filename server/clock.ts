/**
 * Time, injected so that tests need no sleeping. Intervals and timeouts use `mono`, never `now`:
 * the wall clock may step.
 */
export interface Clock {
  /** Wall clock [ms since 1970 UTC]. */
  now(): number
  /** Monotonic clock [ms], arbitrary origin. */
  mono(): number
  /** Runs `task` every `periodMs`; returns the function that stops it. */
  every(periodMs: number, task: () => void): () => void
  /** Runs `task` once after `delayMs` (≤ 2³¹−1); returns the function that cancels it. */
  after(delayMs: number, task: () => void): () => void
}

export const systemClock: Clock = {
  now: () => Date.now(),
  mono: () => performance.now(),
  every(periodMs, task) {
    const timer = setInterval(task, periodMs)
    return () => clearInterval(timer)
  },
  after(delayMs, task) {
    const timer = setTimeout(task, delayMs)
    return () => clearTimeout(timer)
  },
}
