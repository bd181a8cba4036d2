import type { Clock } from '../clock.ts'
import type { State } from '../state/openState.ts'
import { hashSecret, makeToken } from './codes.ts'

/** Without a request for this long a session ends [ms]. An open page asks every few seconds. */
export const IDLE_MS = 12 * 3_600_000
/** No session lasts longer than this [ms]. */
export const LIFETIME_MS = 7 * 24 * 3_600_000
/** Browsers in which one person may be signed in; one more ends the oldest. */
export const MOST_PER_PERSON = 20
/** How far [ms] the clock may have been set back before sessions begun "in the future" stop counting. */
const CLOCK_TOLERANCE_MS = 300_000
/** How often the time of the last request is stored [ms]. */
const STORE_SEEN_MS = 60_000

/** One browser in which somebody is signed in. */
export interface Session {
  /** Hash of the token; the token itself is only in the browser. */
  key: string
  person: number
  startedAt: number
  seenAt: number
}

export interface Sessions {
  /** Returns the token for the cookie. */
  start(person: number): string
  /** The session of a token while it lasts; asking counts as a sign of life. */
  find(token: string | undefined): Session | undefined
  end(key: string): void
  endAll(person: number): void
  count(person: number): number
  /** Called with the key of every session that has ended. Returns the function that stops it. */
  onEnded(listener: (key: string) => void): () => void
  /** Ends what is over; call now and then. */
  sweep(): void
}

export function createSessions(state: State, clock: Clock): Sessions {
  const { database } = state
  const insert = database.prepare('INSERT INTO session (key, person, startedAt, seenAt) VALUES (?, ?, ?, ?)')
  const touch = database.prepare('UPDATE session SET seenAt = ? WHERE key = ?')
  const remove = database.prepare('DELETE FROM session WHERE key = ?')
  const rows = database.prepare('SELECT key, person, startedAt, seenAt FROM session').all() as Session[]
  const held = new Map(rows.map((row) => [row.key, row]))
  const storedSeenAt = new Map<string, number>()
  const listeners = new Set<(key: string) => void>()

  function isOver({ startedAt, seenAt }: Session): boolean {
    const now = clock.now()
    return now - seenAt > IDLE_MS || now - startedAt > LIFETIME_MS
  }

  function end(key: string): void {
    if (!held.delete(key)) return
    storedSeenAt.delete(key)
    state.write(() => void remove.run(key))
    for (const listener of listeners) listener(key)
  }

  function seen(session: Session): void {
    const now = clock.now()
    session.seenAt = now
    if (now - (storedSeenAt.get(session.key) ?? 0) < STORE_SEEN_MS) return
    storedSeenAt.set(session.key, now)
    state.write(() => void touch.run(now, session.key))
  }

  const of = (person: number) => [...held.values()].filter((session) => session.person === person)

  return {
    start(person) {
      const oldest = of(person).sort((a, b) => a.seenAt - b.seenAt)
      for (const one of oldest.slice(0, Math.max(0, oldest.length + 1 - MOST_PER_PERSON))) end(one.key)
      const token = makeToken()
      const now = clock.now()
      const session = { key: hashSecret(token), person, startedAt: now, seenAt: now }
      held.set(session.key, session)
      storedSeenAt.set(session.key, now)
      state.write(() => void insert.run(session.key, person, now, now))
      return token
    },
    find(token) {
      const session = token === undefined ? undefined : held.get(hashSecret(token))
      if (!session) return undefined
      if (isOver(session)) {
        end(session.key)
        return undefined
      }
      if (clock.now() < session.startedAt - CLOCK_TOLERANCE_MS) return undefined
      seen(session)
      return session
    },
    end,
    endAll(person) {
      for (const session of of(person)) end(session.key)
    },
    count: (person) => of(person).length,
    onEnded(listener) {
      listeners.add(listener)
      return () => listeners.delete(listener)
    },
    sweep() {
      for (const session of held.values()) if (isOver(session)) end(session.key)
    },
  }
}
