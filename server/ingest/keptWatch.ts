import type { Message } from './broker/broker.ts'

/** So long [ms] after a session was taken up again, or after the last reading that came late in it, more of them may come. */
const WINDOW_MS = 30_000

/**
 * Tells what the broker may have kept for us while we were away. Nothing in a message says so: it is all that comes soon
 * after a durable session was taken up again, and as long as late readings still come in it.
 */
export interface KeptWatch {
  mayBeKept(message: Message): boolean
  noteLate(message: Message): void
}

export function createKeptWatch(): KeptWatch {
  let until = Number.NEGATIVE_INFINITY
  return {
    mayBeKept({ resumedAt, receivedAt }) {
      if (resumedAt === undefined || receivedAt < resumedAt) return false
      return receivedAt <= Math.max(until, resumedAt + WINDOW_MS)
    },
    noteLate({ resumedAt, receivedAt }) {
      if (resumedAt !== undefined) until = receivedAt + WINDOW_MS
    },
  }
}
