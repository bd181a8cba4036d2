import type { IncomingMessage } from 'node:http'
import { z } from 'zod'
import { DEVICE_LIFETIME_MS } from '../access/knownDevices.ts'
import { LIFETIME_MS } from '../access/sessions.ts'
import type { Doorstep, SignedIn } from '../access/signIn.ts'
import { DEVICE_COOKIE, readVisitor, SESSION_COOKIE, whereaboutsOf } from '../access/visitor.ts'
import { role, sessionReply } from '../wire/access.ts'
import { text } from '../wire/shape.ts'
import { given, HttpFault } from './errors.ts'
import { type Asked, get, OK, post, type RouteContext, remove } from './route.ts'

export const personName = z
  .string()
  .transform((typed) => typed.normalize('NFKC').trim().replace(/\s+/g, ' '))
  .refine((typed) => /^[\p{L}\p{M}\p{N} .,'’_@-]{1,40}$/u.test(typed), {
    error: "expected 1 to 40 letters, digits, spaces or . , ' _ @ -",
  })
/** Length and the rest are judged in server/access/passwords.ts: a fault here could not say why. */
export const secret = z.string()
export const secondFactor = secret
  .exactOptional()
  .describe('Code of the app or recovery code, where one is asked for')
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
    body: z.strictObject({ name: personName, password: secret, secondFactor }),
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
  post('account', '/api/session/password', {
    summary: 'Change the own password; signs out everywhere else',
    action: 'change password',
    body: z.strictObject({ current: secret, password: secret, secondFactor }),
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
    body: byCode.extend({ secondFactor }),
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

export function doorstepOf(request: IncomingMessage): Doorstep {
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
