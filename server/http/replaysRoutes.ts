import type { IncomingMessage } from 'node:http'
import { z } from 'zod'
import type { Replay } from '../replay/replay.ts'
import type { ReplayWish } from '../replay/replays.ts'
import { explainReply } from '../wire/explain.ts'
import {
  type ReplaySummary,
  replayControl,
  replayRequest,
  replaySummary,
  replaysReply,
} from '../wire/replay.ts'
import { historyReply } from '../wire/replies.ts'
import { number } from '../wire/shape.ts'
import type { RunReply } from '../wire/trial.ts'
import { actorOf } from './context.ts'
import { namesFor } from './discretion.ts'
import { given, HttpFault } from './errors.ts'
import { historyQuery, readHistory } from './historyRoutes.ts'
import { plantOf } from './plantsRoutes.ts'
import { done, get, OK, post, type RouteContext, remove } from './route.ts'

/** Shown before a run and after it, so that one sees it begin and end [ms]. */
const MARGIN_MS = 5000

/** Recordings that are shown again, to everybody at the same moment. */
export const replaysRoutes = [
  get('read', '/api/plants/:plant/replays', {
    summary: 'Recordings that are being shown',
    reply: replaysReply,
    handle: (context, { params, request }) => ({
      replays: context.replays
        .list(plantOf(context, params.plant).plant.id)
        .map((replay) => discreet(context, request, replay)),
    }),
  }),
  post('teach', '/api/plants/:plant/replays', {
    summary: 'Show a saved run, or any span of history of at most 31 days, again',
    action: 'start a replay',
    body: replayRequest,
    reply: z.object({ replay: number }),
    async handle(context, { params, body, request }) {
      const live = plantOf(context, params.plant)
      const by = actorOf(context, request).name
      const span = 'run' in body ? await spanOfRun(context, live.plant.id, body.run) : body
      return given(context.replays.start(live, { ...span, by }))
    },
  }),
  get('read', '/api/replays/:replay', {
    summary: 'How a replay stands',
    reply: replaySummary,
    handle: (context, { params, request }) =>
      discreet(context, request, replayOf(context, params.replay).summary()),
  }),
  post('teach', '/api/replays/:replay', {
    summary: 'Run, pause, speed, jump, hide; what is left out stays as it is',
    action: 'steer a replay',
    body: replayControl,
    reply: replaySummary,
    handle(context, { params, body }) {
      given(context.replays.control(params.replay, body))
      return replayOf(context, params.replay).summary()
    },
  }),
  remove('teach', '/api/replays/:replay', {
    summary: 'End a replay',
    action: 'end a replay',
    reply: OK,
    handle: ({ replays }, { params }) => done(replays.end(params.replay)),
  }),
  get('read', '/api/replays/:replay/history', {
    summary: 'Minimum, mean and maximum per bucket, up to the moment that is shown; without hidden figures',
    query: historyQuery,
    reply: historyReply,
    handle(context, { params, query, request }) {
      const replay = replayOf(context, params.replay)
      const figures = query.figures.filter((figure) => !replay.concealed().has(figure))
      if (figures.length === 0)
        throw new HttpFault(409, { error: 'Every figure that was asked for is hidden until it is revealed.' })
      const newest = replay.at() + 1
      const to = Math.min(query.to ?? newest, newest)
      const { plan } = replay.recorded
      return readHistory(context, request, { plan, wish: { ...query, figures, to }, newest })
    },
  }),
  get('read', '/api/replays/:replay/figures/:figure/explain', {
    summary: 'Where a figure comes from, with the numbers of the moment that is shown',
    reply: explainReply,
    handle: ({ replays }, { params }) => given(replays.explain(params.replay, params.figure)),
  }),
]

function discreet({ access }: RouteContext, request: IncomingMessage, replay: ReplaySummary): ReplaySummary {
  const roleOf = namesFor(access, request)
  return roleOf ? { ...replay, by: roleOf(replay.by) } : replay
}

/** @throws {HttpFault} 404 */
function replayOf({ replays }: RouteContext, replay: number): Replay {
  return given(replays.find(replay))
}

/** @throws {HttpFault} 404 for a run that this plant does not have. */
async function spanOfRun(
  { trials, now }: RouteContext,
  plant: string,
  run: number,
): Promise<Omit<ReplayWish, 'by'>> {
  const { run: saved, points } = given(await trials.run(plant, run))
  const last = saved.finishedAt ?? now()
  return {
    from: saved.startedAt - MARGIN_MS,
    to: Math.min(now(), last + MARGIN_MS),
    run: { id: run, name: saved.name, marks: points.map(markOf) },
  }
}

function markOf({ number: point, at, setting }: RunReply['points'][number]) {
  return { at, name: `Point ${point}${setting === '' ? '' : `, ${setting}`}` }
}
