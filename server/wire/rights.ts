import type { Action, ActorRole, Role } from './access.ts'

/** Least rights first. */
export const ROLES = [
  'viewer',
  'student',
  'operator',
  'maintainer',
  'administrator',
] as const satisfies Role[]

const EVERYBODY: readonly ActorRole[] = [...ROLES, 'demo']
const WHO_PLAYS: readonly ActorRole[] = ['student', 'operator', 'maintainer', 'administrator', 'demo']
const WHO_OPERATES: readonly ActorRole[] = ['operator', 'maintainer', 'administrator', 'demo']

/** The one table of who may do what, for server and browser. A new action is a row here and a name in access.ts. */
export const RIGHTS: Readonly<Record<Action, readonly ActorRole[]>> = {
  read: EVERYBODY,
  simulate: WHO_PLAYS,
  /** Run a guided test. */
  trial: WHO_PLAYS,
  /** Show something to a class. */
  teach: WHO_OPERATES,
  /** Take part in a class: a phone with a seat in it, and no role. */
  attend: [],
  acknowledge: WHO_OPERATES,
  reset: WHO_OPERATES,
  shelve: WHO_OPERATES,
  /** Take an alarm out of service, and put it back. */
  withhold: ['maintainer', 'administrator', 'demo'],
  settings: ['maintainer', 'administrator', 'demo'],
  account: ROLES,
  users: ['administrator'],
  audit: ['administrator'],
}

export const ACTIONS = Object.keys(RIGHTS) as Action[]
