import type { QueueHealth } from '../wire/replies.ts'

/** How often somebody may do something: a store of tokens that refills at a steady rate (token bucket). */
export interface Rate {
  perSecond: number
  /** Tokens in a full store: how much may come at once. */
  burst: number
}

/** Allowances of many, each with a store of its own. */
export interface Allowances {
  /** True while the store of `key` holds a token; takes it. */
  take(key: string): boolean
  queue(): QueueHealth
}

/** Stores remembered; when full, the one used longest ago is forgotten, which fills it. */
const MOST_KEYS = 10_000

export function createAllowances(name: string, { perSecond, burst }: Rate, mono: () => number): Allowances {
  /** What was used longest ago comes first. */
  const stores = new Map<string, { tokens: number; at: number }>()
  let refused = 0

  return {
    take(key) {
      const now = mono()
      const known = stores.get(key)
      const tokens = known ? Math.min(burst, known.tokens + ((now - known.at) / 1000) * perSecond) : burst
      const isGiven = tokens >= 1
      if (!isGiven) refused++
      stores.delete(key)
      stores.set(key, { tokens: isGiven ? tokens - 1 : tokens, at: now })
      if (stores.size > MOST_KEYS) stores.delete(stores.keys().next().value!)
      return isGiven
    },
    queue: () => ({
      name,
      length: stores.size,
      limit: MOST_KEYS,
      policy: `each ${burst} at once and ${perSecond}/s; more are refused and counted`,
      dropped: refused,
    }),
  }
}
