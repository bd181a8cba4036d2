import express, { type Request, type RequestHandler, type Response, Router } from 'express'
import { z } from 'zod'
import type { Access } from '../access/openAccess.ts'
import type { Action } from '../wire/access.ts'
import { followToAudit, noteForAudit } from './auditTrail.ts'
import { answerMissing, HttpFault, readInput } from './errors.ts'
import { checkOwnPage } from './guards.ts'
import { PARAMS, paramNames } from './params.ts'
import type { Document, Media, Route, RouteContext } from './route.ts'

const LARGEST_BODY = '16kb'

/**
 * Answers the rows and nothing else below /api and /metrics. The right comes before anything else about a request:
 * who has none learns nothing of its body.
 */
export function serveRoutes(routes: readonly Route[], context: RouteContext): Router {
  const router = Router()
  const readBody = express.json({ limit: LARGEST_BODY, strict: true, inflate: false })
  for (const route of routes) {
    const guard = guardOf(context.access, route)
    router[route.method](route.path, guard, readBody, answererOf(route, context))
  }
  router.use(['/api', '/metrics'], (request, response, next) => {
    request.url = request.originalUrl
    answerMissing(request, response, next)
  })
  return router
}

function guardOf(access: Access, route: Route): RequestHandler {
  const { right } = route
  return (request, response, next) => {
    if (isAudited(route)) followToAudit(access, route, { request, response })
    if (route.method !== 'get') checkOwnPage(request)
    if (right !== 'open' && !access.may(request, right)) refuse(access, right, { request, response })
    requireProof(access, route, { request, response })
    next()
  }
}

/** @throws {HttpFault} 401 that says that the password is wanted once more. */
function requireProof(access: Access, { proof }: Route, { request, response }: Exchange): void {
  if (proof !== 'lately') return
  const session = access.session(request)
  if (session && access.sessions.isProven(session.key)) return
  response.set('WWW-Authenticate', 'Session')
  throw new HttpFault(401, { error: 'Show your password once more for this.', needs: 'proof' })
}

/** Everything that changes something, and what only administrators may see. */
function isAudited({ method, right }: Route): boolean {
  return method !== 'get' || (right !== 'open' && right !== 'read')
}

function answererOf(route: Route, context: RouteContext): RequestHandler {
  const names = paramNames(route.path)
  return async (request, response) => {
    const params = names.map((name) => [
      name,
      readInput<string | number>(PARAMS[name], request.params[name], { where: name }),
    ])
    const reply = await route.handle(context, {
      params: Object.fromEntries(params),
      query: route.query && readInput(route.query, request.query, { where: 'query' }),
      body:
        route.body && readInput(route.body, request.body ?? {}, { where: 'body', isSecret: route.isSecret }),
      request,
      response,
      note: (note) => noteForAudit(response, note),
    })
    if (route.reply instanceof z.ZodType) response.json(reply)
    else send(response, route.reply, reply as Document)
  }
}

function send(response: Response, { media }: Media, { content, name, policy }: Document): void {
  if (name !== undefined) response.attachment(name)
  if (policy !== undefined) response.set('Content-Security-Policy', policy)
  response.type(media).send(typeof content === 'string' ? content : Buffer.from(content))
}

/** @throws {HttpFault} 401 for somebody who is not signed in, 403 for somebody whose role is not enough. */
function refuse(access: Access, right: Action, { request, response }: Exchange): never {
  // A seat is no role, so no role is missing.
  if (right === 'attend') throw new HttpFault(401, { error: 'Join the lesson first.' })
  const actor = access.actor(request)
  if (actor && actor.role !== 'demo')
    throw new HttpFault(403, { error: `Your role, ${actor.role}, may not do this (${right}).` })
  // RFC 9110, 15.5.2: a 401 says by what means. Browsers pass over a scheme that they do not know.
  response.set('WWW-Authenticate', 'Session')
  if (access.may(request, 'attend')) throw new HttpFault(401, { error: ONLY_A_PHONE })
  throw new HttpFault(401, { error: 'Sign in first.' })
}

const ONLY_A_PHONE =
  'This browser has joined a lesson and shows nothing else until it leaves the lesson, or the lesson ends.'

interface Exchange {
  request: Request
  response: Response
}
