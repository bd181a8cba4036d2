import { z } from 'zod'
import { countAlarms } from '../alarms/board.ts'
import { createCalendar, isDate } from '../derive/counting/calendar.ts'
import { explainFigure } from '../derive/explain.ts'
import { nodeOf } from '../derive/plan.ts'
import type { ShownPlant } from '../mirror/shownPlant.ts'
import { noFigure } from '../outcome.ts'
import { snapshotWithRoles } from '../push/withRoles.ts'
import { agreementReply } from '../wire/agreement.ts'
import { dangerOf } from '../wire/danger.ts'
import { explainReply } from '../wire/explain.ts'
import { type PlantSummary, plantSummary, snapshot } from '../wire/plant.ts'
import { counterDaysReply, counterView, indexView } from '../wire/replies.ts'
import type { HttpContext } from './context.ts'
import { namesFor } from './discretion.ts'
import { given, HttpFault } from './errors.ts'
import { get } from './route.ts'

const LONGEST_DAYS = 1100

const date = z.string().refine(isDate, { error: 'expected a date such as "2026-03-29"' })
const daysQuery = z.object({
  from: date.exactOptional().describe('First date, e.g. 2026-03-01; default the first of the month'),
  to: date.exactOptional().describe('Last date, included; default today'),
})

/** What plants there are and how they are now. */
export const plantsRoutes = [
  get('read', '/api/plants', {
    summary: 'Every plant with its state and headline figure',
    reply: z.array(plantSummary),
    handle: ({ plants }) => [...plants().values()].map(summarize),
  }),
  get('read', '/api/plants/:plant/live', {
    summary: 'Everything a screen needs: descriptions, values, alarms',
    reply: snapshot,
    handle(context, { params, request }) {
      const now = context.hub.snapshot(plantOf(context, params.plant))
      const roleOf = namesFor(context.access, request)
      return roleOf ? snapshotWithRoles(now, roleOf) : now
    },
  }),
  get('read', '/api/plants/:plant/counters', {
    summary: 'Energy, volume, run time, starts and trips; today and this month',
    reply: z.array(counterView),
    handle: (context, { params }) => asked(context, 'counters', params.plant),
  }),
  get('read', '/api/plants/:plant/agreement', {
    summary: 'Whether the instruments agree, and which one does not',
    reply: agreementReply,
    handle: (context, { params }) => plantOf(context, params.plant).agreement.reply(),
  }),
  get('read', '/api/plants/:plant/counters/:counter/days', {
    summary: 'A counter by local day of the plant',
    query: daysQuery,
    reply: counterDaysReply,
    async handle(context, { params, query: { from, to } }) {
      const { id: plant, site } = plantOf(context, params.plant).plant
      const today = () => createCalendar(site.timeZone).dayOf(context.now()).date
      const span = spanOf(from, to ?? today())
      return given(await context.ask('counterDays', { plant, counter: params.counter, ...span }))
    },
  }),
  get('read', '/api/plants/:plant/indices', {
    summary: 'Capacity factor, availability and others, from counters',
    reply: z.array(indexView),
    handle: (context, { params }) => asked(context, 'indices', params.plant),
  }),
  get('read', '/api/plants/:plant/figures/:figure/explain', {
    summary: 'Where a figure comes from, with the numbers of now',
    reply: explainReply,
    handle(context, { params }) {
      const { plan, evaluator } = plantOf(context, params.plant)
      const reply = explainFigure(plan, evaluator, params.figure)
      if (!reply) throw new HttpFault(404, { error: noFigure(params.figure).error })
      return reply
    },
  }),
]

/** @throws {HttpFault} 400 */
function spanOf(first: string | undefined, to: string): { from: string; to: string } {
  const from = first ?? `${to.slice(0, -2)}01`
  const days = (Date.parse(to) - Date.parse(from)) / 86_400_000
  if (days < 0) throw new HttpFault(400, { error: `"from" (${from}) must not be after "to" (${to}).` })
  if (days >= LONGEST_DAYS)
    throw new HttpFault(400, { error: `Between "from" and "to" may lie at most ${LONGEST_DAYS} days.` })
  return { from, to }
}

/** What the watch counts at a plant. @throws {HttpFault} 404, 503 */
async function asked<Q extends 'counters' | 'indices'>(context: HttpContext, question: Q, plant: string) {
  return given(await context.ask(question, { plant: plantOf(context, plant).plant.id }))
}

/** @throws {HttpFault} 404 */
export function plantOf({ plants }: Pick<HttpContext, 'plants'>, id: string): ShownPlant {
  const live = plants().get(id)
  if (!live) throw new HttpFault(404, { error: `There is no plant "${id.slice(0, 64)}".` })
  return live
}

function summarize(live: ShownPlant): PlantSummary {
  const { id, name, summary, simulated } = live.plant
  const node = nodeOf(live.plan, 'activePower') ?? nodeOf(live.plan, live.view.keyFigures[0] ?? '')
  return {
    id,
    name,
    summary,
    simulated,
    state: live.state(),
    headline: node ? { figure: node.description, value: live.evaluator.view(node.index) } : null,
    ...countAlarms(live.alarms()),
    danger: dangerOf({
      state: live.state(),
      alarms: live.alarms(),
      figures: live.view.figures.map((description, i) => ({
        description,
        now: () => live.evaluator.view(i),
      })),
    }),
    lastReceivedAt: live.lastReceivedAt(),
  }
}
