import { z } from 'zod'
import { qrView } from './qr.ts'
import { type Action, ROLES } from './rights.ts'
import { flag, number, text, time, timeOrNull } from './shape.ts'

export type { Action, ActorRole, Role } from './rights.ts'

export const role = z.enum(ROLES)
const actorRole = z.enum([...ROLES, 'demo'])

export const secondFactorView = z.object({
  since: time,
  recoveryCodes: number.describe('One-time codes that are left'),
})
/** Of a person whose second factor is on. The key is told to nobody again. */
export type SecondFactorView = z.output<typeof secondFactorView>

export const secondFactorKey = z.object({
  key: text.describe('Base32, to be typed into an app'),
  address: text.describe('otpauth:// address of the same key'),
  qr: qrView,
})
/** A new key, shown this once. */
export type SecondFactorKey = z.output<typeof secondFactorKey>

export const recoveryCodesReply = z.object({ recoveryCodes: z.array(text) })
/** Shown this once. */
export type RecoveryCodesReply = z.output<typeof recoveryCodesReply>

export const sessionReply = z.object({
  name: text.nullable().describe('Null when not signed in'),
  role: actorRole.nullable(),
  actions: z.array(z.custom<Action>((word) => typeof word === 'string').meta({ type: 'string' })),
  secondFactor: secondFactorView.nullable().describe('Of the person signed in; null while it is off'),
  hasUsers: flag.describe('False until the first administrator was made with the set-up code'),
})
/** Who am I, and what may I do. */
export type SessionReply = z.output<typeof sessionReply>

export const sessionView = z
  .object({
    id: text,
    isThis: flag.describe('True for the one that asks'),
    browser: text.nullable().describe('In words; null for a program that names none'),
    address: text.describe('From where it was used last'),
    startedAt: time,
    seenAt: time,
  })
  .meta({ id: 'Session' })
/** One browser in which a person is signed in, for that person. */
export type SessionView = z.output<typeof sessionView>

export const userView = z
  .object({
    id: number,
    name: text,
    role,
    hasPassword: flag.describe('False until the one-time code was used'),
    codeUntil: timeOrNull.describe('Until when the one-time code holds; null without one'),
    createdAt: time,
    signedInAt: timeOrNull,
    sessions: number.describe('In how many browsers signed in'),
    hasSecondFactor: flag,
  })
  .meta({ id: 'User' })
/** One user, for administrators. */
export type UserView = z.output<typeof userView>

export const userCodeReply = z.object({ user: userView, code: text })
/** The answer to adding a user or resetting a password: the code is shown this once. */
export type UserCodeReply = z.output<typeof userCodeReply>

const auditEntry = z.object({
  sequence: number,
  at: time,
  who: text.nullable().describe('The name signed in, or the one claimed; null when none was given'),
  role: actorRole.nullable(),
  address: text,
  action: text.describe('E.g. "acknowledge", "sign in", "change role"'),
  target: text.describe('What it was done to, e.g. "plants/mill/alarms/low"'),
  detail: text.nullable(),
  outcome: z
    .enum(['done', 'refused', 'failed'])
    .describe('Refused: no right; failed: had the right, but it could not be done'),
})
export type AuditEntry = z.output<typeof auditEntry>

export const auditReply = z.object({ entries: z.array(auditEntry) })
export type AuditReply = z.output<typeof auditReply>
