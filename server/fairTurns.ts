import { granted, type Outcome, refuse } from './outcome.ts'
import type { QueueHealth } from './wire/replies.ts'

export interface FairLimits {
  /** For health. */
  name: string
  /** Tasks under way of all together. */
  atOnce: number
  /** Tasks of one asker that are under way. */
  underWay: number
  /** Tasks of one asker that wait besides. */
  waiting: number
  /** Tasks of all askers that wait. */
  waitingOfAll: number
}

/** Costly tasks of many askers: whoever asks for much waits for their own, and not the others for them. */
export interface FairTurns {
  /**
   * Does `task` when it is the turn of `asker`; turns go round by askers, not by tasks.
   *
   * @returns what came of it, or a refusal where too many wait. Rejects as the task does.
   */
  take<T>(asker: string, task: () => Promise<T>): Promise<Outcome<T>>
  queue(): QueueHealth
}

interface Asker {
  underWay: number
  waiting: (() => void)[]
}

export function createFairTurns(limits: FairLimits): FairTurns {
  /** Whose turn ended last comes last. */
  const askers = new Map<string, Asker>()
  let underWay = 0
  let waiting = 0
  let refused = 0

  function next(): void {
    while (underWay < limits.atOnce) {
      const turn = [...askers].find(([, one]) => one.waiting.length > 0 && one.underWay < limits.underWay)
      if (!turn) return
      const asker = turn[1]
      asker.underWay++
      underWay++
      waiting--
      asker.waiting.shift()!()
    }
  }

  function leave(key: string, asker: Asker): void {
    asker.underWay--
    underWay--
    askers.delete(key)
    if (asker.underWay > 0 || asker.waiting.length > 0) askers.set(key, asker)
    next()
  }

  return {
    async take(key, task) {
      const asker = askers.get(key) ?? { underWay: 0, waiting: [] }
      if (asker.underWay + asker.waiting.length >= limits.underWay + limits.waiting) {
        refused++
        return refuse(429, OWN_WAIT, { retryAfterS: 2 })
      }
      if (waiting >= limits.waitingOfAll) {
        refused++
        return refuse(503, OTHERS_WAIT, { retryAfterS: 2 })
      }
      askers.set(key, asker)
      waiting++
      const turn = new Promise<void>((resolve) => asker.waiting.push(resolve))
      next()
      await turn
      try {
        return granted(await task())
      } finally {
        leave(key, asker)
      }
    },
    queue: () => ({
      name: limits.name,
      length: waiting,
      limit: limits.waitingOfAll,
      policy: `in turn by who asks; of each ${limits.underWay} at once and ${limits.waiting} waiting, more are refused`,
      dropped: refused,
    }),
  }
}

const OWN_WAIT =
  'Too many of your questions wait for an answer already. Ask again when some of them are answered.'
const OTHERS_WAIT = 'Too many questions of others are waiting. Try again in two seconds.'
