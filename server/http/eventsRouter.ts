import { type Request, Router } from 'express'
import { z } from 'zod'
import { eventCsv } from '../alarms/events/csv.ts'
import type { EventRecord } from '../wire/event.ts'
import type { HttpContext } from './context.ts'
import { HttpFault, readInput } from './errors.ts'
import { plantOf } from './plantsRouter.ts'

const query = z.object({ limit: z.coerce.number().int().min(1).max(500).default(50) })

/** Records of over-speed and trips: the list, one record, and its samples as a table. */
export function eventsRouter(context: HttpContext): Router {
  const router = Router()
  router.get('/plants/:plant/events', (request, response) => {
    const { limit } = readInput(query, request.query, 'query')
    response.json(context.events.list(plantOf(context, request).plant.id, limit))
  })
  router.get('/plants/:plant/events/:event', (request, response) => {
    response.json(eventOf(context, request))
  })
  router.get('/plants/:plant/events/:event/csv', (request, response) => {
    const event = eventOf(context, request)
    response.type('text/csv').attachment(`${event.id}.csv`).send(eventCsv(event))
  })
  return router
}

/** @throws {HttpFault} 404 */
function eventOf(context: HttpContext, request: Request): EventRecord {
  const id = String(request.params['event'])
  const event = context.events.find(plantOf(context, request).plant.id, id)
  if (!event) throw new HttpFault(404, { error: `This plant has no event "${id.slice(0, 80)}".` })
  return event
}
