import { Router } from 'express'
import type { Access } from '../access/openAccess.ts'
import { LIFETIME_MS } from '../access/sessions.ts'
import { readVisitor, SESSION_COOKIE } from '../access/visitor.ts'

/** /enter/CODE: from the server's console to a browser that has the rights of this machine. */
export function enterRouter(access: Pick<Access, 'machine' | 'audit' | 'requester'>): Router {
  const { machine, audit } = access
  const router = Router()
  router.get('/enter/:code', (request, response) => {
    // express takes HEAD for GET; what looks ahead must not use the address up
    if (request.method !== 'GET') return response.status(405).set('Allow', 'GET').end()
    const outcome = machine.enter(request, request.params.code)
    if (!outcome.ok) {
      // Whoever opens it a second time in the same browser is in already.
      if (access.requester(request).kind === 'person') return response.redirect(303, '/')
      return response.status(outcome.status).type('text/plain').send(`${outcome.error}\n`)
    }
    audit.record({
      who: null,
      role: null,
      address: readVisitor(request).address,
      action: 'enter',
      target: 'this machine',
      detail: 'with the address on the console',
      outcome: 'done',
    })
    response.set('Set-Cookie', SESSION_COOKIE.line(request, outcome.value, LIFETIME_MS))
    response.set({ 'Cache-Control': 'no-store', 'Referrer-Policy': 'no-referrer' })
    response.redirect(303, '/')
  })
  return router
}
