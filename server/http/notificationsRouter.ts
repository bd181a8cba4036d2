import { Router } from 'express'
import { z } from 'zod'
import type { HttpContext } from './context.ts'
import { HttpFault, readInput } from './errors.ts'

const testWish = z.strictObject({ recipient: z.string().max(64).optional() })
const subscriptionWish = z.strictObject({
  recipient: z.string().max(64),
  subscription: z.object({
    endpoint: z
      .string()
      .max(1000)
      .regex(/^https:\/\//, { error: 'expected an https address' }),
    keys: z.object({
      p256dh: z.string().regex(/^[\w-]{80,100}=*$/, { error: 'expected a key of 65 bytes' }),
      auth: z.string().regex(/^[\w-]{20,30}=*$/, { error: 'expected a key of 16 bytes' }),
    }),
  }),
})

/** /api/notifications: whether alarm messages get through, and what is on its way. */
export function notificationsRouter({ notify }: HttpContext): Router {
  const router = Router()
  router.get('/notifications', (_request, response) => {
    response.json(notify.view())
  })
  router.post('/notifications/test', (request, response) => {
    const { recipient } = readInput(testWish, request.body ?? {}, 'body')
    const planned = notify.test(recipient)
    if (planned === undefined) throw new HttpFault(404, { error: `There is no recipient "${recipient}".` })
    response.json({ planned })
  })
  router.post('/notifications/channels/:channel/enable', (request, response) => {
    const id = String(request.params['channel'])
    if (!notify.enable(id)) throw new HttpFault(404, { error: `There is no channel "${id.slice(0, 64)}".` })
    response.json({ ok: true })
  })
  router.post('/notifications/browsers', (request, response) => {
    const { recipient, subscription } = readInput(subscriptionWish, request.body ?? {}, 'body')
    if (!notify.subscribe(recipient, subscription))
      throw new HttpFault(404, { error: `No channel to browsers is set up for "${recipient}".` })
    response.json({ ok: true })
  })
  return router
}
