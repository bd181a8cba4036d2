import type { Action, Role } from '../wire/access.ts'

/** Least rights first. */
export const ROLES = [
  'viewer',
  'student',
  'operator',
  'maintainer',
  'administrator',
] as const satisfies Role[]

/** The roles, and whoever sits at a machine that runs only the demo and has no users yet. */
export type ActorRole = Role | 'demo'

const EVERYBODY: readonly ActorRole[] = [...ROLES, 'demo']
const WHO_PLAYS: readonly ActorRole[] = ['student', 'operator', 'maintainer', 'administrator', 'demo']
const WHO_OPERATES: readonly ActorRole[] = ['operator', 'maintainer', 'administrator', 'demo']

/** The one table of who may do what. A new action is a row here and a name in server/wire/access.ts. */
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

/** Somebody who may be held to account for what happens. */
export interface Actor {
  /** Null for the person at the machine of a demo. */
  id: number | null
  /** For the journal. */
  name: string
  role: ActorRole
  address: string
}

export function can(actor: Actor | undefined, action: Action): boolean {
  return actor !== undefined && RIGHTS[action].includes(actor.role)
}
