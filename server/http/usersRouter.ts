import { type Response, Router } from 'express'
import { z } from 'zod'
import type { AuditReply } from '../wire/access.ts'
import { ROLES } from '../wire/rights.ts'
import { personName } from './accessRouter.ts'
import { noteForAudit } from './auditTrail.ts'
import type { HttpContext } from './context.ts'
import { readInput } from './errors.ts'
import { given } from './given.ts'

const role = z.enum(ROLES)
const fresh = z.strictObject({ name: personName, role })
const change = z.strictObject({ role })
const path = z.object({ user: z.coerce.number().int().positive() })
const page = z.object({
  limit: z.coerce.number().int().min(1).max(1000).default(100),
  before: z.coerce.number().int().positive().optional(),
})

/** /api/users and /api/audit, for administrators. */
export function usersRouter({ access }: HttpContext): Router {
  const router = Router()
  const { administer } = access
  router.get('/users', (_request, response) => {
    response.json(administer.list())
  })
  router.post('/users', (request, response) => {
    const wish = readInput(fresh, request.body, 'body')
    noteForAudit(response, { target: wish.name, detail: `as ${wish.role}` })
    response.json(given(administer.add(wish.name, wish.role)))
  })
  router.patch('/users/:user', (request, response) => {
    const id = userOf(request.params, response)
    const wish = readInput(change, request.body, 'body')
    noteForAudit(response, { detail: `to ${wish.role}` })
    response.json(given(administer.changeRole(id, wish.role)))
  })
  router.post('/users/:user/code', (request, response) => {
    response.json(given(administer.resetPassword(userOf(request.params, response))))
  })
  router.delete('/users/:user', (request, response) => {
    given(administer.remove(userOf(request.params, response)))
    response.json({ ok: true })
  })
  router.get('/audit', (request, response) => {
    const { limit, before } = readInput(page, request.query, 'query')
    const entries = access.audit.newest({ limit, ...(before === undefined ? {} : { before }) })
    response.json({ entries } satisfies AuditReply)
  })

  /** The audit shall hold a name: a number says nothing once the user is removed. */
  function userOf(params: unknown, response: Response): number {
    const { user: id } = readInput(path, params, 'address')
    const known = administer.list().find((one) => one.id === id)
    if (known) noteForAudit(response, { target: known.name })
    return id
  }

  return router
}
