import type { UtcMs } from './figure.ts'

/** Least rights first. What each may do stands in rights.ts, and only there. */
export type Role = 'viewer' | 'student' | 'operator' | 'maintainer' | 'administrator'

/** The roles, and whoever sits at a machine that runs only the demo and has no users yet: nobody is signed in. */
export type ActorRole = Role | 'demo'

export type Action =
  | 'read'
  | 'acknowledge'
  | 'reset'
  | 'shelve'
  | 'withhold'
  | 'simulate'
  | 'trial'
  | 'teach'
  | 'attend'
  | 'settings'
  | 'account'
  | 'users'
  | 'audit'

/** GET /api/session: who am I, and what may I do. */
export interface SessionReply {
  /** Null when not signed in. */
  name: string | null
  role: ActorRole | null
  actions: Action[]
  /** False until the first administrator was made with the set-up code. */
  hasUsers: boolean
}

/** One user, for administrators. */
export interface UserView {
  id: number
  name: string
  role: Role
  /** False until the one-time code was used. */
  hasPassword: boolean
  /** Until when the one-time code holds; null without one. */
  codeUntil: UtcMs | null
  createdAt: UtcMs
  signedInAt: UtcMs | null
  /** How many browsers are signed in. */
  sessions: number
}

/** The answer to adding a user or resetting a password: the code is shown this once. */
export interface UserCodeReply {
  user: UserView
  code: string
}

export interface AuditEntry {
  sequence: number
  at: UtcMs
  /** The name signed in, or the one claimed; null when none was given. */
  who: string | null
  role: ActorRole | null
  address: string
  /** e.g. "acknowledge", "sign in", "change role". */
  action: string
  /** What it was done to, e.g. "plants/mill/alarms/low". */
  target: string
  detail: string | null
  /** refused: no right · failed: had the right, but it could not be done. */
  outcome: 'done' | 'refused' | 'failed'
}

export interface AuditReply {
  entries: AuditEntry[]
}
