import type { IncomingMessage } from 'node:http'
import { z } from 'zod'
import { DEVICE_LIFETIME_MS } from '../access/knownDevices.ts'
import type { Access } from '../access/openAccess.ts'
import { LIFETIME_MS, type Session } from '../access/sessions.ts'
import type { Doorstep, SignedIn } from '../access/signIn.ts'
import { DEVICE_COOKIE, readVisitor, SESSION_COOKIE, whereaboutsOf } from '../access/visitor.ts'
import { role, sessionReply, sessionView } from '../wire/access.ts'
import { text } from '../wire/shape.ts'
import { given, HttpFault } from './errors.ts'
import { type Asked, done, get, OK, post, type RouteContext, remove } from './route.ts'

export const personName = z
  .string()
  .transform((typed) => typed.normalize('NFKC').trim().replace(/\s+/g, ' '))
  .refine((typed) => /^[\p{L}\p{M}\p{N} .,'’_@-]{1,40}$/u.test(typed), {
    error: "expected 1 to 40 letters, digits, spaces or . , ' _ @ -",
  })
/** Length and the rest are judged in server/access/passwords.ts: a fault here could not say why. */
const secret = z.string()
const byCode = z.strictObject({ name: personName, code: secret, password: secret })
const signedIn = z.object({ name: text, role })

/** Getting in and out, and what one may do. */
export const accessRoutes = [
  get('open', '/api/session', {
    summary: 'Who is signed in here, and what they may do',
    reply: sessionReply,
    handle: ({ access }, { request }) => access.describe(request),
  }),
  post('open', '/api/session', {
    summary: 'Sign in; the answer sets a cookie. 429 with Retry-After after failures',
    action: 'sign in',
    body: z.strictObject({ name: personName, password: secret }),
    isSecret: true,
    reply: signedIn,
    handle: (context, asked) => enter(context, asked, context.access.signIn.withPassword),
  }),
  remove('account', '/api/session', {
    summary: 'Sign out',
    action: 'sign out',
    query: z.object({
      everywhere: z.enum(['true', 'false']).default('false').describe('true: in every browser'),
    }),
    reply: OK,
    handle({ access: { sessions } }, { query, request, response, note }) {
      const everywhere = query.everywhere === 'true'
      const found = sessions.find(readVisitor(request))
      if (found && everywhere) sessions.endAll(found.person)
      else if (found) sessions.end(found.key)
      if (everywhere) note({ detail: 'everywhere' })
      response.append('Set-Cookie', SESSION_COOKIE.line(request, '', 0))
      return { ok: true } as const
    },
  }),
  post('account', '/api/session/proof', {
    summary: 'Show the own password once more; counts for ten minutes in this session',
    action: 'show password',
    body: z.strictObject({ password: secret }),
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
  post('account', '/api/session/password', {
    summary: 'Change the own password; signs out everywhere else',
    action: 'change password',
    body: z.strictObject({ current: secret, password: secret }),
    isSecret: true,
    proof: 'body',
    reply: signedIn,
    async handle({ access }, { body, request, response, note }) {
      const person = access.person(request)
      if (!person) throw new HttpFault(401, { error: 'Sign in first.' })
      const outcome = await access.signIn.changePassword(person, { ...body, ...doorstepOf(request) })
      return takeIn(access, outcome, { request, response, note })
    },
  }),
  post('open', '/api/setup', {
    summary: 'Make an administrator with the code on the server’s console',
    action: 'set up',
    body: byCode,
    isSecret: true,
    reply: signedIn,
    handle: (context, asked) => enter(context, asked, context.access.signIn.withSetUpCode),
  }),
  post('open', '/api/password', {
    summary: 'Choose a password with the one-time code of an administrator',
    action: 'set password',
    body: byCode,
    isSecret: true,
    reply: signedIn,
    handle: (context, asked) => enter(context, asked, context.access.signIn.withCode),
  }),
]

/** Signs in by one of the ways that ask for a name. */
async function enter<Wish extends { name: string }>(
  { access }: RouteContext,
  { body, ...asked }: Asked<unknown, unknown, Wish>,
  way: (wish: Wish & Doorstep) => Promise<SignedIn>,
) {
  asked.note({ who: body.name })
  return takeIn(access, await way({ ...body, ...doorstepOf(asked.request) }), asked)
}

/** @throws {HttpFault} 401 */
function sessionOf(access: Access, request: IncomingMessage): Session {
  const session = access.session(request)
  if (!session) throw new HttpFault(401, { error: 'Sign in first.' })
  return session
}

function doorstepOf(request: IncomingMessage): Doorstep {
  return { ...whereaboutsOf(request), device: DEVICE_COOKIE.read(request) }
}

type Exchange = Pick<Asked<unknown, unknown, unknown>, 'request' | 'response' | 'note'>

/** The session that this browser had before is over: nobody can have planted the new one. */
function takeIn(
  { sessions }: RouteContext['access'],
  outcome: SignedIn,
  { request, response, note }: Exchange,
): z.output<typeof signedIn> {
  const { person, token, device } = given(outcome)
  const before = sessions.find(readVisitor(request))
  if (before) sessions.end(before.key)
  note({ who: person.name })
  response.append('Set-Cookie', SESSION_COOKIE.line(request, token, LIFETIME_MS))
  response.append('Set-Cookie', DEVICE_COOKIE.line(request, device, DEVICE_LIFETIME_MS))
  return { name: person.name, role: person.role }
}
