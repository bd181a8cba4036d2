import { type Request, Router } from 'express'
import { z } from 'zod'
import type { Replay } from '../replay/replay.ts'
import type { ReplayWish } from '../replay/replays.ts'
import type { RunReply } from '../wire/trial.ts'
import { actorOf, type HttpContext } from './context.ts'
import { HttpFault, readInput } from './errors.ts'
import { defined, given } from './given.ts'
import { historyQuery, readHistory } from './historyRouter.ts'
import { plantOf } from './plantsRouter.ts'

/** Shown before a run and after it, so that one sees it begin and end [ms]. */
const MARGIN_MS = 5000

const moment = z.number().int().min(0).max(8_640_000_000_000_000)
const number = z.coerce.number().int().min(1)
const start = z.union([z.strictObject({ run: number }), z.strictObject({ from: moment, to: moment })], {
  error: 'expected a run, or a span by "from" and "to"',
})
const control = z.strictObject({
  isPaused: z.boolean().optional(),
  speed: z.number().optional(),
  at: moment.optional(),
  hidden: z.array(z.string().max(64)).max(40).optional(),
})

/** Recordings that are shown again, to everybody at the same moment. */
export function replaysRouter(context: HttpContext): Router {
  const router = Router()
  const { replays } = context
  const path = '/replays/:replay'

  router.get('/plants/:plant/replays', (request, response) => {
    response.json({ replays: replays.list(plantOf(context, request).plant.id) })
  })
  router.post('/plants/:plant/replays', async (request, response) => {
    const live = plantOf(context, request)
    const wish = readInput(start, request.body, 'body')
    const by = actorOf(context, request).name
    const span = 'run' in wish ? await spanOfRun(context, live.plant.id, wish.run) : wish
    response.json(given(replays.start(live, { ...span, by })))
  })
  router.get(path, (request, response) => {
    response.json(replayOf(context, request).summary())
  })
  router.post(path, (request, response) => {
    const { id } = replayOf(context, request)
    const wish = readInput(control, request.body, 'body')
    given(replays.control(id, defined(wish)))
    response.json(replayOf(context, request).summary())
  })
  router.delete(path, (request, response) => {
    given(replays.end(replayOf(context, request).id))
    response.json({ ok: true })
  })
  router.get(`${path}/history`, async (request, response) => {
    const replay = replayOf(context, request)
    const wish = readInput(historyQuery, request.query, 'query')
    const figures = wish.figures.filter((figure) => !replay.concealed().has(figure))
    if (figures.length === 0)
      throw new HttpFault(409, { error: 'Every figure that was asked for is hidden until it is revealed.' })
    const newest = replay.at() + 1
    const to = Math.min(wish.to ?? newest, newest)
    response.json(
      await readHistory(context, { plan: replay.recorded.plan, wish: { ...wish, figures, to }, newest }),
    )
  })
  router.get(`${path}/figures/:figure/explain`, (request, response) => {
    response.json(given(replays.explain(replayOf(context, request).id, request.params.figure)))
  })
  return router
}

/** @throws {HttpFault} 404 */
function replayOf({ replays }: HttpContext, request: Request): Replay {
  return given(replays.find(readInput(number, request.params['replay'], 'replay')))
}

/** @throws {HttpFault} 404 for a run that this plant does not have. */
async function spanOfRun(
  { trials, now }: HttpContext,
  plant: string,
  run: number,
): Promise<Omit<ReplayWish, 'by'>> {
  const { run: summary, points } = given(await trials.run(plant, run))
  const last = summary.finishedAt ?? now()
  return {
    from: summary.startedAt - MARGIN_MS,
    to: Math.min(now(), last + MARGIN_MS),
    run: { id: run, name: summary.name, marks: points.map(markOf) },
  }
}

function markOf({ number: point, at, setting }: RunReply['points'][number]) {
  return { at, name: `Point ${point}${setting === '' ? '' : `, ${setting}`}` }
}
