import { type Request, type RequestHandler, type Response, Router } from 'express'
import type { Access } from '../access/openAccess.ts'
import type { Action } from '../wire/access.ts'
import { followToAudit } from './auditTrail.ts'
import { answerMissing, HttpFault } from './errors.ts'
import { requireOwnPage } from './guards.ts'
import { ROUTE_RIGHTS, type RouteRight } from './routeRights.ts'

/**
 * Stands before every route. Express itself matches the rows of the table, so that a path cannot be one thing
 * here and another behind; what has no row does not get through.
 */
export function createGate(access: Access): Router {
  const gate = Router()
  for (const row of ROUTE_RIGHTS) gate[row.method](row.path, guardOf(access, row))
  gate.use(['/api', '/metrics'], (request, response, next) => {
    request.url = request.originalUrl
    answerMissing(request, response, next)
  })
  return gate
}

function guardOf(access: Access, row: RouteRight): RequestHandler {
  const { right } = row
  return (request, response, next) => {
    if (isAudited(row)) followToAudit(access, row, { request, response })
    if (row.method !== 'get') requireOwnPage(request, response, failOn)
    if (right !== 'open' && !access.may(request, right)) refuse(access, right, { request, response })
    next('router')
  }
}

/** Everything that changes something, and what only administrators may see. */
function isAudited({ method, right }: RouteRight): boolean {
  return method !== 'get' || (right !== 'open' && right !== 'read')
}

function failOn(error?: unknown): void {
  if (error !== undefined) throw error
}

/** @throws {HttpFault} 401 for somebody who is not signed in, 403 for somebody whose role is not enough. */
function refuse(access: Access, right: Action, { request, response }: Exchange): never {
  // A seat is no role, so no role is missing.
  if (right === 'attend') throw new HttpFault(401, { error: 'Join the class first.' })
  const actor = access.actor(request)
  if (actor && actor.role !== 'demo')
    throw new HttpFault(403, { error: `Your role, ${actor.role}, may not do this (${right}).` })
  // RFC 9110, 15.5.2: a 401 says by what means. Browsers pass over a scheme that they do not know.
  response.set('WWW-Authenticate', 'Session')
  if (access.may(request, 'attend')) throw new HttpFault(401, { error: ONLY_A_PHONE })
  throw new HttpFault(401, { error: 'Sign in first.' })
}

const ONLY_A_PHONE =
  'This browser has joined a class and shows nothing else until it leaves the class, or the class ends.'

interface Exchange {
  request: Request
  response: Response
}
