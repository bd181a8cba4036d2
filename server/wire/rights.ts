/** Least rights first. What each may do stands below, and only there. */
export const ROLES = ['viewer', 'student', 'operator', 'maintainer', 'administrator'] as const

export type Role = (typeof ROLES)[number]

/** The roles, and whoever sits at a machine that runs only the demo and has no users yet: nobody is signed in. */
export type ActorRole = Role | 'demo'

const EVERYBODY: readonly ActorRole[] = [...ROLES, 'demo']
const WHO_PLAYS: readonly ActorRole[] = ['student', 'operator', 'maintainer', 'administrator', 'demo']
const WHO_OPERATES: readonly ActorRole[] = ['operator', 'maintainer', 'administrator', 'demo']

/** The one table of who may do what, for server and browser. */
export const RIGHTS = tableOf({
  read: EVERYBODY,
  simulate: WHO_PLAYS,
  /** Run a guided test. */
  trial: WHO_PLAYS,
  /** Change what others decided and wrote in a finished run. */
  amend: WHO_OPERATES,
  /** Hold a lesson: show something to a class. */
  teach: WHO_OPERATES,
  /** Take part in a lesson: a phone with a seat in it, and no role. */
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
})

export type Action = keyof typeof RIGHTS

export const ACTIONS = Object.keys(RIGHTS) as Action[]

function tableOf<Name extends string>(
  table: Record<Name, readonly ActorRole[]>,
): Readonly<Record<Name, readonly ActorRole[]>> {
  return table
}
