import type { Clock } from '../clock.ts'
import type { State } from '../state/openState.ts'
import { hashSecret, makeToken } from './codes.ts'
import { createEndedFile } from './endedFile.ts'
import type { Visitor, Whereabouts } from './visitor.ts'

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

/** For so long [ms] after a password was shown, the same session may do what asks for one. */
export const PROOF_MS = 600_000

/** One browser in which somebody is signed in. */
export interface Session {
  /** Hash of the token; the token itself is only in the browser. It opens nothing. */
  key: string
  person: number
  startedAt: number
  seenAt: number
  browser: string | null
  /** From where it was used last. */
  address: string
}

export interface Sessions {
  /** Returns the token for the cookie. Whoever gets one has just proven who they are. */
  start(person: number, from: Whereabouts): string
  /** The session of a token while it lasts; asking counts as a sign of life from there. */
  find(visitor: Pick<Visitor, 'token' | 'address'>): Session | undefined
  end(key: string): void
  /** All of a person, or all but one. */
  endAll(person: number, but?: string): void
  /** Of one person, the one used last first. */
  of(person: number): Session[]
  /** The password was shown once more. */
  prove(key: string): void
  /** It has to be shown anew. */
  forgetProof(key: string): void
  /** Whether that was lately; not known across a restart of the server. */
  isProven(key: string): boolean
  /** Called with the key of every session that has ended. Returns the function that stops it. */
  onEnded(listener: (key: string) => void): () => void
  /** Ends what is over; call now and then. */
  sweep(): void
  close(): void
}

const COLUMNS = 'key, person, startedAt, seenAt, browser, address'

export function createSessions(state: State, clock: Clock): Sessions {
  const { database } = state
  const insert = database.prepare(`INSERT INTO session (${COLUMNS}) VALUES (?, ?, ?, ?, ?, ?)`)
  const touch = database.prepare('UPDATE session SET seenAt = ?, address = ? WHERE key = ?')
  const remove = database.prepare('DELETE FROM session WHERE key = ?')
  const rows = database.prepare(`SELECT ${COLUMNS} FROM session`).all() as Session[]
  const ended = createEndedFile(state.folder)
  const held = new Map(rows.flatMap((row) => (ended.has(row.key) ? [] : [[row.key, row]])))
  const storedSeenAt = new Map<string, number>()
  /** On the monotonic clock [ms]. */
  const provenAt = new Map<string, number>()
  /** Sessions that ended here and not on the disk yet. */
  const notStored = new Set(rows.flatMap(({ key }) => (ended.has(key) ? [key] : [])))
  const listeners = new Set<(key: string) => void>()

  function isOver({ startedAt, seenAt }: Session): boolean {
    const now = clock.now()
    return now - seenAt > IDLE_MS || now - startedAt > LIFETIME_MS
  }

  function end(key: string): void {
    if (!held.delete(key)) return
    storedSeenAt.delete(key)
    provenAt.delete(key)
    notStored.add(key)
    storeEnds()
    if (notStored.has(key)) ended.add(key)
    for (const listener of listeners) listener(key)
  }

  /** What the disk refused to forget would be signed in again after a restart. */
  function storeEnds(): void {
    for (const key of notStored) if (state.write(() => void remove.run(key))) notStored.delete(key)
    if (notStored.size === 0) ended.clear()
  }

  function seen(session: Session, address: string): void {
    const now = clock.now()
    session.seenAt = now
    session.address = address
    if (now - (storedSeenAt.get(session.key) ?? 0) < STORE_SEEN_MS) return
    storedSeenAt.set(session.key, now)
    state.write(() => void touch.run(now, address, session.key))
  }

  const of = (person: number) =>
    [...held.values()].filter((session) => session.person === person).sort((a, b) => b.seenAt - a.seenAt)

  return {
    start(person, { address, browser = null }) {
      for (const one of of(person).slice(MOST_PER_PERSON - 1)) end(one.key)
      const token = makeToken()
      const now = clock.now()
      const session = { key: hashSecret(token), person, startedAt: now, seenAt: now, browser, address }
      held.set(session.key, session)
      storedSeenAt.set(session.key, now)
      provenAt.set(session.key, clock.mono())
      state.write(() => void insert.run(session.key, person, now, now, browser, address))
      return token
    },
    find({ token, address }) {
      const session = token === undefined ? undefined : held.get(hashSecret(token))
      if (!session) return undefined
      if (isOver(session)) {
        end(session.key)
        return undefined
      }
      if (clock.now() < session.startedAt - CLOCK_TOLERANCE_MS) return undefined
      seen(session, address)
      return session
    },
    end,
    endAll(person, but) {
      for (const { key } of of(person)) if (key !== but) end(key)
    },
    of,
    prove(key) {
      if (held.has(key)) provenAt.set(key, clock.mono())
    },
    forgetProof: (key) => void provenAt.delete(key),
    isProven: (key) => clock.mono() - (provenAt.get(key) ?? Number.NEGATIVE_INFINITY) <= PROOF_MS,
    onEnded(listener) {
      listeners.add(listener)
      return () => listeners.delete(listener)
    },
    sweep() {
      storeEnds()
      for (const session of held.values()) if (isOver(session)) end(session.key)
    },
    close: ended.close,
  }
}
