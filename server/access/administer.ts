import { DONE, granted, NOT_STORED, type Outcome, refuse } from '../outcome.ts'
import type { Role, UserCodeReply, UserView } from '../wire/access.ts'
import { hashCode, makeCode } from './codes.ts'
import type { KnownDevices } from './knownDevices.ts'
import type { People, Person } from './people.ts'
import type { SecondFactors } from './secondFactors.ts'
import type { Sessions } from './sessions.ts'

export const MOST_USERS = 500
/** How long a one-time code can be used [ms]. */
export const CODE_LIFETIME_MS = 72 * 3_600_000

/** What administrators do with the other users. They never know or set a password: they hand a code over. */
export interface Administer {
  list(): UserView[]
  add(name: string, role: Role): Outcome<UserCodeReply>
  changeRole(id: number, role: Role): Outcome<UserView>
  /** Takes the password, every session and every known browser away; the code lets the person choose a new one. */
  resetPassword(id: number): Outcome<UserCodeReply>
  remove(id: number): Outcome<null>
  /** For somebody who has lost phone and recovery codes. */
  takeSecondFactorOff(id: number): Outcome<UserView>
}

export interface AdministerSources {
  people: People
  sessions: Sessions
  devices: KnownDevices
  factors: SecondFactors
  now: () => number
}

export function createAdminister({ people, sessions, devices, factors, now }: AdministerSources): Administer {
  const view = ({ id, name, role, password, code, codeUntil, createdAt, signedInAt }: Person): UserView => ({
    id,
    name,
    role,
    createdAt,
    signedInAt,
    hasPassword: password !== null,
    codeUntil: code === null || (codeUntil ?? 0) <= now() ? null : codeUntil,
    sessions: sessions.of(id).length,
    hasSecondFactor: factors.of(id) !== null,
  })

  /** Somebody who has not set a password yet cannot help anybody in. */
  function isLastAdministrator(id: number): boolean {
    const able = people.all().filter((one) => one.role === 'administrator' && one.password !== null)
    return able.length === 1 && able[0]!.id === id
  }

  function freshCode() {
    const code = makeCode()
    return { code, fields: { password: null, code: hashCode(code), codeUntil: now() + CODE_LIFETIME_MS } }
  }

  return {
    list: () =>
      people
        .all()
        .map(view)
        .sort((a, b) => a.name.localeCompare(b.name)),
    add(name, role) {
      if (people.byName(name)) return refuse(409, `There is a user "${name}" already.`)
      if (people.all().length >= MOST_USERS)
        return refuse(409, `There are ${MOST_USERS} users, which is the limit. Remove one first.`)
      const { code, fields } = freshCode()
      const person = people.add({ name, role, ...fields, createdAt: now(), signedInAt: null })
      return person ? granted({ user: view(person), code }) : NOT_STORED
    },
    changeRole(id, role) {
      if (!people.byId(id)) return NO_SUCH_USER
      if (role !== 'administrator' && isLastAdministrator(id)) return LAST_ADMINISTRATOR
      const person = people.change(id, { role })
      return person ? granted(view(person)) : NOT_STORED
    },
    resetPassword(id) {
      if (!people.byId(id)) return NO_SUCH_USER
      if (isLastAdministrator(id)) return LAST_ADMINISTRATOR
      const { code, fields } = freshCode()
      const person = people.change(id, fields)
      if (!person) return NOT_STORED
      sessions.endAll(id)
      devices.forget(id)
      return granted({ user: view(person), code })
    },
    remove(id) {
      if (!people.byId(id)) return NO_SUCH_USER
      if (isLastAdministrator(id)) return LAST_ADMINISTRATOR
      if (!people.remove(id)) return NOT_STORED
      sessions.endAll(id)
      devices.forget(id)
      factors.remove(id)
      return DONE
    },
    takeSecondFactorOff(id) {
      const person = people.byId(id)
      if (!person) return NO_SUCH_USER
      const outcome = factors.remove(id)
      return outcome.ok ? granted(view(person)) : outcome
    },
  }
}

const NO_SUCH_USER = refuse(404, 'There is no such user.')
const LAST_ADMINISTRATOR = refuse(
  409,
  'This is the last administrator who can sign in. Make another one first.',
)
