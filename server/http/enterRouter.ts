import { Router } from 'express'
import type { Access } from '../access/openAccess.ts'
import { LIFETIME_MS } from '../access/sessions.ts'
import { readVisitor, SESSION_COOKIE } from '../access/visitor.ts'
import { given } from './errors.ts'

/** /enter/CODE: from the server's console to a browser that has the rights of this machine. */
export function enterRouter({ machine, audit }: Pick<Access, 'machine' | 'audit'>): Router {
  const router = Router()
  router.get('/enter/:code', (request, response) => {
    const token = given(machine.enter(request, request.params.code))
    audit.record({
      who: null,
      role: null,
      address: readVisitor(request).address,
      action: 'enter',
      target: 'this machine',
      detail: 'with the address on the console',
      outcome: 'done',
    })
    response.set('Set-Cookie', SESSION_COOKIE.line(request, token, LIFETIME_MS))
    response.set({ 'Cache-Control': 'no-store', 'Referrer-Policy': 'no-referrer' })
    response.redirect(303, '/')
  })
  return router
}
