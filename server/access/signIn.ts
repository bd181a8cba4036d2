import { networkOf } from '../hosts.ts'
import { DONE, granted, NOT_STORED, type Outcome, type Refusal, refuse } from '../outcome.ts'
import type { Place } from '../turns.ts'
import { hashCode, isSameHash } from './codes.ts'
import { commonFault } from './commonPasswords.ts'
import type { KnownDevices } from './knownDevices.ts'
import type { Attempt, LockOut } from './lockOut.ts'
import { type Passwords, passwordFault } from './passwords.ts'
import { nameKey, type People, type Person } from './people.ts'
import { SECOND_WANTED, type SecondFactors } from './secondFactors.ts'
import type { Session, Sessions } from './sessions.ts'
import type { SetUp } from './setUp.ts'
import type { Whereabouts } from './visitor.ts'

export interface SignInSources {
  people: People
  passwords: Passwords
  sessions: Sessions
  lockOut: LockOut
  devices: KnownDevices
  setUp: SetUp
  factors: SecondFactors
  now: () => number
}

/** `device` is what the browser shall keep to be known again. */
export type SignedIn = Outcome<{ person: Person; token: string; device: string }>

/** Where somebody tries to get in. */
export interface Doorstep extends Whereabouts {
  /** What the browser keeps of those who signed in with it before. */
  device?: string | undefined
}

interface PasswordWish extends Doorstep {
  name: string
  password: string
  /** Code of the second factor. */
  secondFactor?: string | undefined
}

interface OwnChange extends Omit<PasswordWish, 'name' | keyof Doorstep> {
  current: string
}

interface CodeWish extends PasswordWish {
  code: string
}

/** The ways to get a session. Each is slowed down after failures, and says no more than that it failed. */
export interface SignIn {
  withPassword(wish: PasswordWish): Promise<SignedIn>
  /** With the code of an administrator, choosing a password. */
  withCode(wish: CodeWish): Promise<SignedIn>
  /** With the code on the server's console: the person is made an administrator, new or not, without a second factor. */
  withSetUpCode(wish: CodeWish): Promise<SignedIn>
  /** Of a person who is signed in; ends their other sessions. */
  changePassword(person: Person, wish: Doorstep & OwnChange): Promise<SignedIn>
  /** The password once more, and the second factor where there is one, in a session that goes on. */
  prove(session: Session, wish: Doorstep & Omit<OwnChange, 'current'>): Promise<Outcome<null>>
}

const WRONG_PASSWORD = refuse(401, 'Name and password do not belong together.')
const WRONG_AGAIN = refuse(401, 'This is not your password.')
const WRONG_CODE = refuse(401, 'Name and code do not belong together, or the code is used up or too old.')
const WRONG_SET_UP_CODE = refuse(
  401,
  'This is not the set-up code, or it was used or is older than 24 h. The server tells a new one at each start without users, and with --new-setup-code.',
)
/** Whoever has a right code waits behind nobody who guesses. */
const WITH_A_CODE: Place = { from: 'right codes', isKnown: true }
/** Stands for the name where the set-up code is guessed at; no person can be called so. */
const SET_UP_NAME = '(set-up code)'

/** Somebody at the door: how they are counted, and where they stand in the line. */
interface Knock {
  attempt: Attempt
  place: Place
}

export function createSignIn(sources: SignInSources): SignIn {
  const { people, passwords, sessions, lockOut, devices, setUp, factors, now } = sources

  function knockOf(name: string, { address, device: kept }: Doorstep): Knock {
    const device = devices.find(people.byName(name)?.id, kept)
    const from = device === undefined ? networkOf(address) : `device ${device}`
    return {
      attempt: { name: nameKey(name), address, device },
      place: { from, isKnown: device !== undefined },
    }
  }

  /** Runs a check that counts as a failure until it has succeeded. */
  async function guarded<T>(attempt: Attempt, check: () => Promise<Outcome<T>>): Promise<Outcome<T>> {
    const waitMs = lockOut.waitMs(attempt)
    if (waitMs > 0) return tooMany(waitMs)
    lockOut.failed(attempt)
    try {
      const outcome = await check()
      const isGuess = !outcome.ok && outcome.status === 401 && outcome !== SECOND_WANTED
      if (!isGuess) lockOut.undo(attempt, outcome.ok)
      return outcome
    } catch (error) {
      lockOut.undo(attempt, false)
      throw error
    }
  }

  function start(person: Person, { device, ...from }: Doorstep): SignedIn {
    const signed = people.change(person.id, { signedInAt: now() }) ?? person
    const token = sessions.start(person.id, from)
    return granted({ person: signed, token, device: devices.remember(person.id, device) })
  }

  async function checkPassword(
    { name, password, secondFactor, ...step }: PasswordWish,
    place: Place,
  ): Promise<SignedIn> {
    const person = people.byName(name)
    const isRight = await passwords.matches(password, person?.password ?? null, place)
    // Meanwhile the person may have been removed or the password reset.
    const still = person && people.byId(person.id)
    if (!isRight || !still || still.password !== person.password) return WRONG_PASSWORD
    const refusal = factors.refusal(still.id, secondFactor)
    if (refusal) return refusal
    if (!passwords.isCurrent(still.password!))
      people.change(still.id, { password: await passwords.hash(password, place) })
    return start(people.byId(still.id) ?? still, step)
  }

  /** With the code of an administrator; undefined when it is not right. */
  async function useCode({
    name,
    code,
    password,
    secondFactor,
    ...step
  }: CodeWish): Promise<SignedIn | undefined> {
    const hash = hashCode(code)
    const isRight = (person: Person | undefined) =>
      isSameHash(hash, person?.code ?? null) && (person?.codeUntil ?? 0) > now()
    if (!isRight(people.byName(name))) return undefined
    const refusal = refusalFor(commonFault(password, name))
    if (refusal) return refusal
    const hashed = await passwords.hash(password, WITH_A_CODE)
    const person = people.byName(name)
    if (!person || !isRight(person)) return undefined
    return factors.refusal(person.id, secondFactor) ?? takePassword(person, hashed, step)
  }

  function takePassword(person: Person, hashed: string, step: Doorstep): SignedIn {
    const changed = people.change(person.id, { password: hashed, code: null, codeUntil: null })
    if (!changed) return NOT_STORED
    sessions.endAll(person.id)
    return start(changed, step)
  }

  /** With the code of the console; undefined when it is not right. */
  async function useSetUpCode({ name, code, password, ...step }: CodeWish): Promise<SignedIn | undefined> {
    if (!setUp.isRight(code)) return undefined
    const refusal = refusalFor(commonFault(password, name))
    if (refusal) return refusal
    const hashed = await passwords.hash(password, WITH_A_CODE)
    if (!setUp.use(code)) return undefined
    const fresh = { role: 'administrator', password: hashed, code: null, codeUntil: null } as const
    const known = people.byName(name)
    const person = known
      ? people.change(known.id, fresh)
      : people.add({ name, ...fresh, createdAt: now(), signedInAt: null })
    if (!person) return NOT_STORED
    sessions.endAll(person.id)
    devices.forget(person.id)
    factors.remove(person.id)
    return start(person, step)
  }

  return {
    withPassword(wish) {
      const { attempt, place } = knockOf(wish.name, wish)
      return guarded(attempt, () => checkPassword(wish, place))
    },
    // A right code is taken at once: nobody can guess 100 random bits, so only wrong ones are slowed down. Six digits
    // of a second factor can be guessed.
    async withCode(wish) {
      const refusal = passwordRefusal(wish.password, wish.name)
      if (refusal) return refusal
      const { attempt } = knockOf(wish.name, wish)
      if (factors.of(people.byName(wish.name)?.id ?? 0))
        return guarded(attempt, async () => (await useCode(wish)) ?? WRONG_CODE)
      return (await useCode(wish)) ?? guarded(attempt, async () => WRONG_CODE)
    },
    async withSetUpCode(wish) {
      return (
        passwordRefusal(wish.password, wish.name) ??
        (await useSetUpCode(wish)) ??
        guarded({ name: SET_UP_NAME, address: wish.address }, async () => WRONG_SET_UP_CODE)
      )
    },
    async changePassword(person, { current, password, secondFactor, ...step }) {
      const refusal = passwordRefusal(password, person.name)
      if (refusal) return refusal
      const { attempt, place } = knockOf(person.name, step)
      return guarded(attempt, async () => {
        if (!(await passwords.matches(current, person.password, place)))
          return refuse(401, 'The present password is not right.')
        const common = refusalFor(commonFault(password, person.name))
        if (common) return common
        const unproven = factors.refusal(person.id, secondFactor)
        if (unproven) return unproven
        const hashed = await passwords.hash(password, place)
        const still = people.byId(person.id)
        return still?.password === person.password ? takePassword(still, hashed, step) : WRONG_PASSWORD
      })
    },
    async prove({ key, person: id }, { password, secondFactor, ...step }) {
      const person = people.byId(id)
      if (!person) return WRONG_AGAIN
      const { attempt, place } = knockOf(person.name, step)
      return guarded(attempt, async () => {
        if (!(await passwords.matches(password, person.password, place))) return WRONG_AGAIN
        const unproven = factors.refusal(id, secondFactor)
        if (unproven) return unproven
        sessions.prove(key)
        return DONE
      })
    },
  }
}

function passwordRefusal(password: string, name: string): Refusal | undefined {
  return refusalFor(passwordFault(password, name))
}

function refusalFor(expected: string | undefined): Refusal | undefined {
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
