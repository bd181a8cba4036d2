import type { QueueHealth } from './wire/replies.ts'

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

/** The allowance of one. */
export interface Allowance {
  /** True while the store holds a token; takes it. */
  take(): boolean
}

export function createAllowance({ perSecond, burst }: Rate, mono: () => number): Allowance {
  let tokens = burst
  let at = mono()
  return {
    take() {
      const now = mono()
      tokens = Math.min(burst, tokens + ((now - at) / 1000) * perSecond)
      at = now
      if (tokens < 1) return false
      tokens--
      return true
    },
  }
}

export function createAllowances(name: string, rate: Rate, mono: () => number): Allowances {
  /** What was used longest ago comes first. */
  const stores = new Map<string, Allowance>()
  let refused = 0

  return {
    take(key) {
      const store = stores.get(key) ?? createAllowance(rate, mono)
      stores.delete(key)
      stores.set(key, store)
      if (stores.size > MOST_KEYS) stores.delete(stores.keys().next().value!)
      const isGiven = store.take()
      if (!isGiven) refused++
      return isGiven
    },
    queue: () => ({
      name,
      length: stores.size,
      limit: MOST_KEYS,
      policy: `each ${rate.burst} at once and ${rate.perSecond}/s; more are refused and counted`,
      dropped: refused,
    }),
  }
}
