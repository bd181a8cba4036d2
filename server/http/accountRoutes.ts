import type { IncomingMessage } from 'node:http'
import { z } from 'zod'
import type { Access } from '../access/openAccess.ts'
import type { Person } from '../access/people.ts'
import type { Session } from '../access/sessions.ts'
import { recoveryCodesReply, secondFactorKey, sessionView } from '../wire/access.ts'
import { doorstepOf, secondFactor, secret } from './accessRoutes.ts'
import { given, HttpFault } from './errors.ts'
import { done, get, NOTHING, OK, post, remove } from './route.ts'

/** What people do with their own account. */
export const accountRoutes = [
  post('account', '/api/session/proof', {
    summary:
      'Show the own password once more, and the second factor where there is one; counts for ten minutes in this session',
    action: 'show password',
    body: z.strictObject({ password: secret, secondFactor }),
    isSecret: true,
    proof: 'body',
    reply: OK,
    async handle({ access }, { body, request }) {
      const wish = { ...body, ...doorstepOf(request) }
      return done(await access.signIn.prove(sessionOf(access, request), wish))
    },
  }),
  get('account', '/api/sessions', {
    summary: 'The browsers in which one is signed in, the one used last first',
    reply: z.array(sessionView),
    handle({ access }, { request }) {
      const own = sessionOf(access, request)
      return access.sessions.of(own.person).map(({ key, person: _person, ...rest }) => ({
        id: key,
        isThis: key === own.key,
        ...rest,
      }))
    },
  }),
  remove('account', '/api/sessions', {
    summary: 'Sign out in every other browser',
    action: 'sign out others',
    reply: OK,
    handle({ access }, { request }) {
      const own = sessionOf(access, request)
      access.sessions.endAll(own.person, own.key)
      return { ok: true } as const
    },
  }),
  remove('account', '/api/sessions/:session', {
    summary: 'Sign out in one browser of the own',
    action: 'sign out one',
    reply: OK,
    handle({ access }, { params, request, note }) {
      const { person } = sessionOf(access, request)
      const found = access.sessions.of(person).find(({ key }) => key === params.session)
      if (!found) throw new HttpFault(404, { error: 'You are not signed in there, or no longer.' })
      note({ detail: `${found.browser ?? 'a program'}, last from ${found.address}` })
      access.sessions.end(found.key)
      return { ok: true } as const
    },
  }),
  post('account', '/api/session/secondFactor', {
    summary: 'A new key for the second factor; it counts once a code of it was confirmed',
    action: 'begin second factor',
    body: NOTHING,
    proof: 'lately',
    reply: secondFactorKey,
    handle: ({ access }, { request }) => access.factors.begin(personOf(access, request)),
  }),
  post('account', '/api/session/secondFactor/confirm', {
    summary:
      'Turn the second factor on with the first code of the new key; the answer has the recovery codes, other sessions end',
    action: 'turn on second factor',
    body: z.strictObject({ code: secret }),
    isSecret: true,
    proof: 'lately',
    reply: recoveryCodesReply,
    handle({ access }, { body, request }) {
      const own = sessionOf(access, request)
      const recoveryCodes = given(access.factors.confirm(own.person, body.code))
      // None goes on that was begun without it.
      access.sessions.endAll(own.person, own.key)
      access.sessions.forgetProof(own.key)
      return { recoveryCodes }
    },
  }),
  post('account', '/api/session/secondFactor/recoveryCodes', {
    summary: 'New recovery codes; those before end',
    action: 'renew recovery codes',
    body: NOTHING,
    proof: 'lately',
    reply: recoveryCodesReply,
    handle: ({ access }, { request }) => ({
      recoveryCodes: given(access.factors.renewRecovery(personOf(access, request).id)),
    }),
  }),
  remove('account', '/api/session/secondFactor', {
    summary: 'Turn the own second factor off',
    action: 'turn off second factor',
    proof: 'lately',
    reply: OK,
    handle: ({ access }, { request }) => done(access.factors.remove(personOf(access, request).id)),
  }),
]

/** @throws {HttpFault} 401 */
function sessionOf(access: Access, request: IncomingMessage): Session {
  const session = access.session(request)
  if (!session) throw new HttpFault(401, { error: 'Sign in first.' })
  return session
}

/** @throws {HttpFault} 401 */
function personOf(access: Access, request: IncomingMessage): Person {
  const person = access.person(request)
  if (!person) throw new HttpFault(401, { error: 'Sign in first.' })
  return person
}
