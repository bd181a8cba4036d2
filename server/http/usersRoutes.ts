import { z } from 'zod'
import { auditReply, role, userCodeReply, userView } from '../wire/access.ts'
import { personName } from './accessRoutes.ts'
import { given } from './errors.ts'
import { type Asked, done, get, OK, page, patch, post, type RouteContext, remove } from './route.ts'

/** Users and the audit, for administrators. */
export const usersRoutes = [
  get('users', '/api/users', {
    summary: 'Every user',
    reply: z.array(userView),
    handle: ({ access }) => access.administer.list(),
  }),
  post('users', '/api/users', {
    summary: 'Add a user; the answer has the one-time code to hand over',
    action: 'add user',
    proof: 'lately',
    body: z.strictObject({ name: personName, role }),
    reply: userCodeReply,
    handle({ access }, { body, note }) {
      note({ target: body.name, detail: `as ${body.role}` })
      return given(access.administer.add(body.name, body.role))
    },
  }),
  patch('users', '/api/users/:user', {
    summary: 'Change the role',
    action: 'change role',
    proof: 'lately',
    body: z.strictObject({ role }),
    reply: userView,
    handle(context, asked) {
      const id = userOf(context, asked)
      asked.note({ detail: `to ${asked.body.role}` })
      return given(context.access.administer.changeRole(id, asked.body.role))
    },
  }),
  remove('users', '/api/users/:user', {
    summary: 'Remove a user; the name stays in journal and audit',
    action: 'remove user',
    proof: 'lately',
    reply: OK,
    handle: (context, asked) => done(context.access.administer.remove(userOf(context, asked))),
  }),
  post('users', '/api/users/:user/code', {
    summary: 'Reset the password; the answer has a one-time code',
    action: 'reset password',
    proof: 'lately',
    reply: userCodeReply,
    handle: (context, asked) => given(context.access.administer.resetPassword(userOf(context, asked))),
  }),
  remove('users', '/api/users/:user/secondFactor', {
    summary: 'Take the second factor off a user who can show it no longer',
    action: 'take second factor off',
    proof: 'lately',
    reply: userView,
    handle: (context, asked) => given(context.access.administer.takeSecondFactorOff(userOf(context, asked))),
  }),
  get('audit', '/api/audit', {
    summary: 'Who did what, newest first, refusals included',
    query: page,
    reply: auditReply,
    handle: ({ access }, { query }) => ({ entries: access.audit.newest(query) }),
  }),
]

/** The audit shall hold a name: a number says nothing once the user is removed. */
function userOf(
  { access }: RouteContext,
  { params, note }: Pick<Asked<{ user: number }, unknown, unknown>, 'params' | 'note'>,
): number {
  const known = access.administer.list().find((one) => one.id === params.user)
  if (known) note({ target: known.name })
  return params.user
}
