import express, { type Response, Router } from 'express'
import type { Audit } from '../access/audit.ts'
import { readVisitor } from '../access/visitor.ts'
import type { Acknowledgements, AckView } from '../alarms/notify/acknowledgements.ts'
import { ACK_POLICY, renderAckPage } from './ackPage.ts'

/**
 * /acknowledge/TOKEN: from a message to an acknowledged alarm in two taps. The token is the right to do so; there is
 * no session that a page from elsewhere could misuse. GET shows, only POST acknowledges: scanners of mail servers
 * follow every link.
 */
export function ackRouter(acknowledgements: Acknowledgements, audit: Pick<Audit, 'record'>): Router {
  const router = Router()
  router.get('/acknowledge/:token', (request, response) => {
    answer(response, acknowledgements.view(request.params.token))
  })
  router.post(
    '/acknowledge/:token',
    express.urlencoded({ extended: false, limit: '1kb' }),
    (request, response) => {
      const seen = Number((request.body as { raisedAt?: unknown } | undefined)?.raisedAt)
      const view = acknowledgements.acknowledge(String(request.params.token), seen)
      if (view.did)
        audit.record({
          who: view.did.by,
          role: null,
          address: readVisitor(request).address,
          action: 'acknowledge',
          target: view.did.target,
          detail: 'by a link in a message',
          outcome: 'done',
        })
      answer(response, view)
    },
  )
  return router
}

function answer(response: Response, view: AckView): void {
  response
    .status(view.status === 'refused' ? 410 : 200)
    .set({
      'Content-Security-Policy': ACK_POLICY,
      'Cache-Control': 'no-store',
      'Referrer-Policy': 'no-referrer',
      'X-Content-Type-Options': 'nosniff',
    })
    .type('html')
    .send(renderAckPage(view))
}
