import { z } from 'zod'
import { eventCsv } from '../alarms/events/csv.ts'
import type { EventPeak, EventRecord, EventSummary } from '../wire/event.ts'
import { HttpFault } from './errors.ts'
import { plantOf } from './plantsRoutes.ts'
import { get, type RouteContext } from './route.ts'
import { number, objectOf, shapeOf, text, time } from './shapes.ts'

const query = z.object({
  limit: z.coerce.number().int().min(1).max(500).default(50),
})
const summary = z.object({
  id: text,
  plant: text,
  at: time,
  alarm: text,
  name: text,
  status: z.enum(['begun', 'complete', 'cut']),
  story: z.array(text),
  simulated: z.boolean(),
})
const channel = z.object({
  quantity: text,
  name: text,
  unit: text,
  viewUnit: text,
  discrete: z.boolean(),
  at: z.array(number).describe('Milliseconds from the event'),
  value: z.array(number),
  dropped: number,
})
const record = summary.extend({
  from: time,
  to: time,
  channels: z.array(channel),
  peak: objectOf<EventPeak>('Highest speed, when, and what told it').nullable(),
  levels: z.array(z.object({ share: number, seconds: number })),
  order: z.array(z.object({ alarm: text, name: text, at: time, came: z.boolean() })),
})

/** Records of over-speed and trips: the list, one record, and its samples as a table. */
export const eventsRoutes = [
  get('read', '/api/plants/:plant/events', {
    summary: 'Records of over-speed and trips, newest first',
    query,
    reply: shapeOf<EventSummary[]>()(z.array(summary)),
    handle: (context, { params, query: { limit } }) =>
      context.events.list(plantOf(context, params.plant).plant.id, limit),
  }),
  get('read', '/api/plants/:plant/events/:event', {
    summary: 'One record with its samples at full rate',
    reply: shapeOf<EventRecord>()(record),
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
