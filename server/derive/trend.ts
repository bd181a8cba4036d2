/** Which way the speed goes. */
export type Change = 'rises' | 'falls' | 'steady'

/** Looks back this long [ms], … */
const SPAN_MS = 10_000
/** … at values this far apart [ms]. */
const STEP_MS = 1000
/** Less than this share of rated speed in that time is steady: a governor hunts by about as much (common practice, no source). */
const LEAST = 0.02

export type Past = { at: number; share: number }[]

/** Whether a share of rated speed has risen or fallen over the last seconds. */
export function createTrend(past: Past = []): { add(now: number, share: number): Change; past(): Past } {
  return {
    past: () => past,
    add(now, share) {
      const last = past.at(-1)
      if (last && now < last.at) past = []
      if (Number.isNaN(share)) return 'steady'
      if (!last || now - last.at >= STEP_MS) past.push({ at: now, share })
      past = past.filter(({ at }) => now - at <= SPAN_MS)
      const change = share - (past[0]?.share ?? share)
      if (change > LEAST) return 'rises'
      return change < -LEAST ? 'falls' : 'steady'
    },
  }
}
