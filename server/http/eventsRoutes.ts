import { z } from 'zod'
import { eventCsv } from '../alarms/events/csv.ts'
import { type EventRecord, eventRecord, eventSummary } from '../wire/event.ts'
import { HttpFault } from './errors.ts'
import { plantOf } from './plantsRoutes.ts'
import { get, type RouteContext } from './route.ts'

const query = z.object({
  limit: z.coerce.number().int().min(1).max(500).default(50),
})
/** Records of over-speed and trips: the list, one record, and its samples as a table. */
export const eventsRoutes = [
  get('read', '/api/plants/:plant/events', {
    summary: 'Records of over-speed and trips, newest first',
    query,
    reply: z.array(eventSummary),
    handle: (context, { params, query: { limit } }) =>
      context.events.list(plantOf(context, params.plant).plant.id, limit),
  }),
  get('read', '/api/plants/:plant/events/:event', {
    summary: 'One record with its samples at full rate',
    reply: eventRecord,
    handle: (context, { params }) => eventOf(context, params),
  }),
  get('read', '/api/plants/:plant/events/:event/csv', {
    summary: 'The samples of a record as CSV',
    reply: { media: 'text/csv' },
    handle(context, { params }) {
      const event = eventOf(context, params)
      return { content: eventCsv(event), name: `${event.id}.csv` }
    },
  }),
]

/** @throws {HttpFault} 404 */
function eventOf(context: RouteContext, { plant, event: id }: { plant: string; event: string }): EventRecord {
  const event = context.events.find(plantOf(context, plant).plant.id, id)
  if (!event) throw new HttpFault(404, { error: `This plant has no event "${id.slice(0, 80)}".` })
  return event
}
