import { type Request, Router } from 'express'
import { explainFigure } from '../derive/explain.ts'
import type { LivePlant } from '../livePlant.ts'
import type { PlantSummary } from '../wire/plant.ts'
import type { CounterView } from '../wire/replies.ts'
import type { HttpContext } from './context.ts'
import { HttpFault } from './errors.ts'

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
  router.get('/plants/:plant/figures/:figure/explain', (request, response) => {
    const { plan, evaluator } = plantOf(context, request)
    const reply = explainFigure(plan, evaluator, request.params.figure)
    if (!reply)
      throw new HttpFault(404, { error: `This plant has no figure "${request.params.figure.slice(0, 64)}".` })
    response.json(reply)
  })
  return router
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
  const alarms = live.board.views()
  const index = live.plan.indexOf.get('activePower') ?? live.plan.indexOf.get(live.view.keyFigures[0] ?? '')
  const node = index === undefined ? undefined : live.plan.nodes[index]
  return {
    ...{ id, name, summary, simulated },
    state: live.state(),
    headline: node ? { figure: node.description, value: live.evaluator.view(node.index) } : null,
    unacknowledged: alarms.filter((alarm) => alarm.state.toLowerCase().includes('unacknowledged')).length,
    active: alarms.filter((alarm) => alarm.active).length,
    lastReceivedAt: live.lastReceivedAt(),
  }
}
