import { networkOf } from '../hosts.ts'
import type { QueueHealth } from '../wire/replies.ts'

export interface Attempt {
  name: string
  address: string
  /** Key of the browser, where the person of this name has signed in with it before. */
  device?: string | undefined
}

export interface Rule {
  key: (attempt: Attempt) => string
  /** Failures that cost nothing. */
  free: number
  /** Longest wait [ms]: nobody is kept out forever. */
  longestMs: number
}

/**
 * After its free failures each further one doubles the wait, from 1 s. These are for browsers that are not known:
 * whoever guesses at a name from many addresses, or at many names from a shared one, slows nobody else down.
 */
const RULES: readonly Rule[] = [
  { key: ({ name, address }) => `both ${address} ${name}`, free: 3, longestMs: 300_000 },
  { key: ({ address }) => `address ${address}`, free: 10, longestMs: 300_000 },
  { key: ({ name }) => `name ${name}`, free: 20, longestMs: 30_000 },
]

/** A known browser has its own counters and no others. */
const DEVICE_RULES: readonly Rule[] = [
  { key: ({ device }) => `device ${device}`, free: 5, longestMs: 300_000 },
]

/** Without a failure for this long [ms] the earlier ones are forgotten. */
const FORGET_MS = 1_800_000
/** Names and addresses remembered; when full, what failed longest ago is forgotten and counted. */
export const LOCK_OUT_LIMIT = 10_000

/** Slows guessing down, by name and by address. In memory: a restart forgets. */
export interface LockOut {
  /** Time [ms] until the next attempt is taken; 0 when that is now. */
  waitMs(attempt: Attempt): number
  /** Call before the password is checked, so that many at once gain nothing. */
  failed(attempt: Attempt): void
  /** It was right after all, or was never checked. */
  undo(attempt: Attempt, succeeded: boolean): void
  queue(): QueueHealth
}

interface Failures {
  count: number
  lastAt: number
  freeAt: number
}

/** @param rules Of those that are not known devices. */
export function createLockOut(mono: () => number, rules: readonly Rule[] = RULES): LockOut {
  /** What failed longest ago comes first. */
  const known = new Map<string, Failures>()
  let forgotten = 0

  function failuresOf(key: string): Failures | undefined {
    const found = known.get(key)
    return found && mono() - found.lastAt < FORGET_MS ? found : undefined
  }

  function fail({ free, longestMs }: Rule, key: string): void {
    const now = mono()
    const count = (failuresOf(key)?.count ?? 0) + 1
    const wait = count <= free ? 0 : Math.min(longestMs, 1000 * 2 ** (count - free - 1))
    known.delete(key)
    known.set(key, { count, lastAt: now, freeAt: now + wait })
  }

  function rulesFor({ device }: Attempt): readonly Rule[] {
    return device === undefined ? rules : DEVICE_RULES
  }

  function makeRoom(): void {
    for (const key of known.keys()) {
      if (known.size <= LOCK_OUT_LIMIT && failuresOf(key)) return
      if (failuresOf(key)) forgotten++
      known.delete(key)
    }
  }

  return {
    waitMs(attempt) {
      const waits = rulesFor(attempt).map(
        (rule) => (failuresOf(rule.key(inNetwork(attempt)))?.freeAt ?? 0) - mono(),
      )
      return Math.max(0, ...waits)
    },
    failed(attempt) {
      for (const rule of rulesFor(attempt)) fail(rule, rule.key(inNetwork(attempt)))
      makeRoom()
    },
    undo(attempt, succeeded) {
      rulesFor(attempt).forEach((rule, i) => {
        const key = rule.key(inNetwork(attempt))
        const found = known.get(key)
        if (!found) return
        // A person who got in has shown that the failures from there were their own.
        if (found.count <= 1 || (succeeded && i === 0)) known.delete(key)
        else known.set(key, { ...found, count: found.count - 1, freeAt: mono() })
      })
    },
    queue: () => ({
      name: 'names, addresses and browsers with failed sign-ins',
      length: known.size,
      limit: LOCK_OUT_LIMIT,
      policy: 'each waits longer after every failure, 5 min at most; the oldest is forgotten and counted',
      dropped: forgotten,
    }),
  }
}

function inNetwork(attempt: Attempt): Attempt {
  return { ...attempt, address: networkOf(attempt.address) }
}
