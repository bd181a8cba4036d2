import { Router } from 'express'
import { z } from 'zod'
import type { JournalReply } from '../wire/replies.ts'
import { noteForAudit } from './auditTrail.ts'
import { actorOf, type HttpContext } from './context.ts'
import { HttpFault, readInput } from './errors.ts'
import { plantOf } from './plantsRouter.ts'

const action = z.strictObject({ note: z.string().max(500).optional() })
const page = z.object({
  limit: z.coerce.number().int().min(1).max(1000).default(100),
  before: z.coerce.number().int().positive().optional(),
})

/** Alarms of a plant, what people do with them, and the journal. */
export function alarmsRouter(context: HttpContext): Router {
  const router = Router()
  router.get('/plants/:plant/alarms', (request, response) => {
    response.json(plantOf(context, request).board.views())
  })
  for (const event of ['acknowledge', 'reset'] as const) {
    router.post(`/plants/:plant/alarms/:alarm/${event}`, (request, response) => {
      const live = plantOf(context, request)
      const { note } = readInput(action, request.body ?? {}, 'body')
      if (note !== undefined) noteForAudit(response, { detail: note })
      const by = actorOf(context, request).name
      const who = { by, at: context.now(), ...(note === undefined ? {} : { note }) }
      const id = String(request.params['alarm'])
      const view = live.board.act(id, event, who)
      if (!view) throw new HttpFault(404, { error: `This plant has no alarm "${id.slice(0, 64)}".` })
      response.json(view)
    })
  }
  router.get('/plants/:plant/journal', (request, response) => {
    const live = plantOf(context, request)
    const { limit, before } = readInput(page, request.query, 'query')
    const reply: JournalReply = {
      entries: context.journal.newest(live.plant.id, { limit, ...(before === undefined ? {} : { before }) }),
    }
    response.json(reply)
  })
  return router
}
