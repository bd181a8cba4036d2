import { type Request, type Response, Router } from 'express'
import { z } from 'zod'
import { SESSION_COOKIE } from '../access/cookies.ts'
import { LIFETIME_MS } from '../access/sessions.ts'
import type { SignedIn } from '../access/signIn.ts'
import { readVisitor } from '../access/visitor.ts'
import { noteForAudit } from './auditTrail.ts'
import type { HttpContext } from './context.ts'
import { HttpFault, readInput } from './errors.ts'
import { given } from './given.ts'

export const personName = z
  .string()
  .transform((text) => text.normalize('NFKC').trim().replace(/\s+/g, ' '))
  .refine((text) => /^[\p{L}\p{M}\p{N} .,'’_@-]{1,40}$/u.test(text), {
    error: "expected 1 to 40 letters, digits, spaces or . , ' _ @ -",
  })
/** Length and the rest are judged in server/access/passwords.ts: a fault here would repeat what was typed. */
const secret = z.string()
const credentials = z.strictObject({ name: personName, password: secret })
const byCode = z.strictObject({ name: personName, code: secret, password: secret })
const ownPassword = z.strictObject({ current: secret, password: secret })
const endQuery = z.object({ everywhere: z.enum(['true', 'false']).default('false') })

/** /api/session, /api/setup, /api/password: getting in and out, and what one may do. */
export function accessRouter({ access }: HttpContext): Router {
  const router = Router()
  router.get('/session', (request, response) => {
    response.json(access.describe(request))
  })
  router.post('/session', async (request, response) => {
    const wish = readInput(credentials, request.body, 'body')
    noteForAudit(response, { who: wish.name })
    const address = readVisitor(request).address
    takeIn(await access.signIn.withPassword({ ...wish, address }), request, response)
  })
  router.delete('/session', (request, response) => {
    const { everywhere } = readInput(endQuery, request.query, 'query')
    const session = access.sessions.find(readVisitor(request).token)
    if (session && everywhere === 'true') access.sessions.endAll(session.person)
    else if (session) access.sessions.end(session.key)
    if (everywhere === 'true') noteForAudit(response, { detail: 'everywhere' })
    response.append('Set-Cookie', SESSION_COOKIE.line(request, '', 0))
    response.json({ ok: true })
  })
  router.post('/session/password', async (request, response) => {
    const wish = readInput(ownPassword, request.body, 'body')
    const person = access.person(request)
    if (!person) throw new HttpFault(401, { error: 'Sign in first.' })
    const address = readVisitor(request).address
    takeIn(await access.signIn.changePassword(person, { ...wish, address }), request, response)
  })
  router.post('/setup', async (request, response) => {
    const wish = readInput(byCode, request.body, 'body')
    noteForAudit(response, { who: wish.name })
    const address = readVisitor(request).address
    takeIn(await access.signIn.withSetUpCode({ ...wish, address }), request, response)
  })
  router.post('/password', async (request, response) => {
    const wish = readInput(byCode, request.body, 'body')
    noteForAudit(response, { who: wish.name })
    const address = readVisitor(request).address
    takeIn(await access.signIn.withCode({ ...wish, address }), request, response)
  })

  /** The session that this browser had before is over: nobody can have planted the new one. */
  function takeIn(outcome: SignedIn, request: Request, response: Response): void {
    const { person, token } = given(outcome)
    const before = access.sessions.find(readVisitor(request).token)
    if (before) access.sessions.end(before.key)
    noteForAudit(response, { who: person.name })
    response.append('Set-Cookie', SESSION_COOKIE.line(request, token, LIFETIME_MS))
    const { name, role } = person
    response.json({ name, role })
  }

  return router
}
