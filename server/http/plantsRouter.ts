import { type Request, Router } from 'express'
import { z } from 'zod'
import { isDate } from '../derive/counting/calendar.ts'
import { explainFigure } from '../derive/explain.ts'
import { nodeOf } from '../derive/plan.ts'
import type { LivePlant } from '../livePlant.ts'
import type { PlantSummary } from '../wire/plant.ts'
import type { CounterView } from '../wire/replies.ts'
import type { HttpContext } from './context.ts'
import { HttpFault, readInput } from './errors.ts'

const LONGEST_DAYS = 1100

const date = z.string().refine(isDate, { error: 'expected a date such as "2026-03-29"' })
const daysQuery = z.object({ from: date.optional(), to: date.optional() })

/** /api/plants: what there is and how it is now. */
export function plantsRouter(context: HttpContext): Router {
  const router = Router()
  router.get('/plants', (_request, response) => {
    response.json([...context.plants().values()].map(summarize))
  })
  router.get('/plants/:plant/live', (request, response) => {
    response.json(context.hub.snapshot(plantOf(context, request)))
  })
  router.get('/plants/:plant/counters', (request, response) => {
    const counters: CounterView[] = plantOf(context, request).counters.views()
    response.json(counters)
  })
  router.get('/plants/:plant/balance', (request, response) => {
    response.json(plantOf(context, request).balance.reply())
  })
  router.get('/plants/:plant/counters/:counter/days', (request, response) => {
    const { counters } = plantOf(context, request)
    const { from, to } = readInput(daysQuery, request.query, 'query')
    const days = counters.days(request.params.counter, spanOf(from, to ?? counters.today()))
    if (!days)
      throw new HttpFault(404, {
        error: `This plant has no counter "${request.params.counter.slice(0, 64)}".`,
      })
    response.json(days)
  })
  router.get('/plants/:plant/indices', (request, response) => {
    response.json(plantOf(context, request).counters.indices())
  })
  router.get('/plants/:plant/figures/:figure/explain', (request, response) => {
    const { plan, evaluator } = plantOf(context, request)
    const reply = explainFigure(plan, evaluator, request.params.figure)
    if (!reply)
      throw new HttpFault(404, { error: `This plant has no figure "${request.params.figure.slice(0, 64)}".` })
    response.json(reply)
  })
  return router
}

/** @throws {HttpFault} 400 */
function spanOf(first: string | undefined, to: string): { from: string; to: string } {
  const from = first ?? `${to.slice(0, -2)}01`
  const days = (Date.parse(to) - Date.parse(from)) / 86_400_000
  if (days < 0) throw new HttpFault(400, { error: `"from" (${from}) must not be after "to" (${to}).` })
  if (days >= LONGEST_DAYS)
    throw new HttpFault(400, { error: `Between "from" and "to" may lie at most ${LONGEST_DAYS} days.` })
  return { from, to }
}

/** @throws {HttpFault} 404 */
export function plantOf(context: HttpContext, request: Request): LivePlant {
  const id = String(request.params['plant'])
  const live = context.plants().get(id)
  if (!live) throw new HttpFault(404, { error: `There is no plant "${id.slice(0, 64)}".` })
  return live
}

function summarize(live: LivePlant): PlantSummary {
  const { id, name, summary, simulated } = live.plant
  const node = nodeOf(live.plan, 'activePower') ?? nodeOf(live.plan, live.view.keyFigures[0] ?? '')
  return {
    ...{ id, name, summary, simulated },
    state: live.state(),
    headline: node ? { figure: node.description, value: live.evaluator.view(node.index) } : null,
    ...live.board.counts(),
    lastReceivedAt: live.lastReceivedAt(),
  }
}
