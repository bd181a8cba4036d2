import { granted, NOT_STORED, type Outcome, type Refusal, refuse } from '../outcome.ts'
import { hashCode, isSameHash } from './codes.ts'
import type { Attempt, LockOut } from './lockOut.ts'
import { type Passwords, passwordFault } from './passwords.ts'
import { nameKey, type People, type Person } from './people.ts'
import type { Sessions } from './sessions.ts'
import type { SetUp } from './setUp.ts'

export interface SignInSources {
  people: People
  passwords: Passwords
  sessions: Sessions
  lockOut: LockOut
  setUp: SetUp
  now: () => number
}

export type SignedIn = Outcome<{ person: Person; token: string }>

/** The ways to get a session. Each is slowed down after failures, and says no more than that it failed. */
export interface SignIn {
  withPassword(wish: { name: string; password: string; address: string }): Promise<SignedIn>
  /** With the code of an administrator, choosing a password. */
  withCode(wish: { name: string; code: string; password: string; address: string }): Promise<SignedIn>
  /** With the code on the server's console: the person is made an administrator, new or not. */
  withSetUpCode(wish: { name: string; code: string; password: string; address: string }): Promise<SignedIn>
  /** Of a person who is signed in; ends their other sessions. */
  changePassword(
    person: Person,
    wish: { current: string; password: string; address: string },
  ): Promise<SignedIn>
}

const WRONG_PASSWORD = refuse(401, 'Name and password do not belong together.')
const WRONG_CODE = refuse(401, 'Name and code do not belong together, or the code is used up or too old.')
const WRONG_SET_UP_CODE = refuse(401, 'This is not the set-up code, or it was used already.')
/** Stands for the name where the set-up code is guessed at; no person can be called so. */
const SET_UP_NAME = '(set-up code)'

export function createSignIn(sources: SignInSources): SignIn {
  const { people, passwords, sessions, lockOut, setUp, now } = sources

  /** Runs a check that counts as a failure until it has succeeded. */
  async function guarded(attempt: Attempt, check: () => Promise<SignedIn>): Promise<SignedIn> {
    const waitMs = lockOut.waitMs(attempt)
    if (waitMs > 0) return tooMany(waitMs)
    lockOut.failed(attempt)
    try {
      const outcome = await check()
      if (outcome.ok || outcome.status !== 401) lockOut.undo(attempt, outcome.ok)
      return outcome
    } catch (error) {
      lockOut.undo(attempt, false)
      throw error
    }
  }

  function start(person: Person): SignedIn {
    const signed = people.change(person.id, { signedInAt: now() }) ?? person
    return granted({ person: signed, token: sessions.start(person.id) })
  }

  async function checkPassword(name: string, password: string): Promise<SignedIn> {
    const person = people.byName(name)
    const isRight = await passwords.matches(password, person?.password ?? null)
    // Meanwhile the person may have been removed or the password reset.
    const still = person && people.byId(person.id)
    if (!isRight || !still || still.password !== person.password) return WRONG_PASSWORD
    if (!passwords.isCurrent(still.password!))
      people.change(still.id, { password: await passwords.hash(password) })
    return start(people.byId(still.id) ?? still)
  }

  async function checkCode(name: string, code: string, password: string): Promise<SignedIn> {
    const hash = hashCode(code)
    const isRight = (person: Person | undefined) =>
      isSameHash(hash, person?.code ?? null) && (person?.codeUntil ?? 0) > now()
    if (!isRight(people.byName(name))) return WRONG_CODE
    const hashed = await passwords.hash(password)
    const person = people.byName(name)
    if (!person || !isRight(person)) return WRONG_CODE
    return takePassword(person, hashed)
  }

  function takePassword(person: Person, hashed: string): SignedIn {
    const changed = people.change(person.id, { password: hashed, code: null, codeUntil: null })
    if (!changed) return NOT_STORED
    sessions.endAll(person.id)
    return start(changed)
  }

  async function checkSetUpCode(name: string, code: string, password: string): Promise<SignedIn> {
    if (!setUp.isRight(code)) return WRONG_SET_UP_CODE
    const hashed = await passwords.hash(password)
    if (!setUp.use(code)) return WRONG_SET_UP_CODE
    const fresh = { role: 'administrator', password: hashed, code: null, codeUntil: null } as const
    const known = people.byName(name)
    const person = known
      ? people.change(known.id, fresh)
      : people.add({ name, ...fresh, createdAt: now(), signedInAt: null })
    if (!person) return NOT_STORED
    sessions.endAll(person.id)
    return start(person)
  }

  return {
    withPassword: ({ name, password, address }) =>
      guarded({ name: nameKey(name), address }, () => checkPassword(name, password)),
    async withCode({ name, code, password, address }) {
      return (
        passwordRefusal(password, name) ??
        guarded({ name: nameKey(name), address }, () => checkCode(name, code, password))
      )
    },
    async withSetUpCode({ name, code, password, address }) {
      return (
        passwordRefusal(password, name) ??
        guarded({ name: SET_UP_NAME, address }, () => checkSetUpCode(name, code, password))
      )
    },
    async changePassword(person, { current, password, address }) {
      const refusal = passwordRefusal(password, person.name)
      if (refusal) return refusal
      return guarded({ name: nameKey(person.name), address }, async () => {
        if (!(await passwords.matches(current, person.password)))
          return refuse(401, 'The present password is not right.')
        const hashed = await passwords.hash(password)
        const still = people.byId(person.id)
        return still?.password === person.password ? takePassword(still, hashed) : WRONG_PASSWORD
      })
    },
  }
}

function passwordRefusal(password: string, name: string): Refusal | undefined {
  const expected = passwordFault(password, name)
  return expected === undefined
    ? undefined
    : refuse(400, 'This password cannot be used.', {
        faults: [{ path: 'password', received: 'something else', expected }],
      })
}

function tooMany(waitMs: number): Refusal {
  const retryAfterS = Math.ceil(waitMs / 1000)
  return refuse(429, `Too many failed attempts. Try again in ${retryAfterS} s.`, { retryAfterS })
}
