import { createHash } from 'node:crypto'
import type { IncomingMessage } from 'node:http'
import { z } from 'zod'
import { RECORD_STYLE } from '../trials/pack/recordHtml.ts'
import type { By, DecisionWish } from '../trials/trials.ts'
import { manualPointRequest } from '../wire/point.ts'
import { number, textUpTo } from '../wire/shape.ts'
import { armRequest, traceReply } from '../wire/trace.ts'
import {
  notesReply,
  notesRequest,
  runReply,
  runRequest,
  runsReply,
  trialsReply,
  type VerdictRequest,
  verdictRequest,
} from '../wire/trial.ts'
import { actorOf } from './context.ts'
import { checkKnowsPeople, knowsPeople, replyWithRoles, runWithRole } from './discretion.ts'
import { given } from './errors.ts'
import { plantOf } from './plantsRoutes.ts'
import { type Asked, done, get, NOTHING, OK, post, type RouteContext, ZIP } from './route.ts'
import { inTurn } from './turns.ts'

/** "class" as in the address; "" stands for any. */
const choice = z.strictObject({
  trial: textUpTo(64).exactOptional(),
  class: textUpTo(80).exactOptional(),
  group: textUpTo(80).exactOptional(),
  year: textUpTo(20).exactOptional(),
  before: z.coerce
    .number()
    .int()
    .min(1)
    .exactOptional()
    .describe('Number of a run to continue from: `before` of the page before'),
})
/** The record brings its own look and nothing else. */
const RECORD_POLICY = [
  "default-src 'none'",
  `style-src 'sha256-${createHash('sha256').update(RECORD_STYLE).digest('base64')}'`,
  "base-uri 'none'",
  "form-action 'none'",
  "frame-ancestors 'none'",
].join('; ')

/** Guided tests of a plant and their runs. */
export const trialsRoutes = [
  get('read', '/api/plants/:plant/trials', {
    summary: 'Guided tests, what each needs here, and the run under way',
    reply: trialsReply,
    handle(context, { params, request }) {
      const { access, trials } = context
      const { underWay, ...reply } = trials.list(plantOf(context, params.plant))
      const isNamed = underWay === null || knowsPeople(access, request)
      return { ...reply, underWay: isNamed ? underWay : runWithRole(underWay, access) }
    },
  }),
  get('read', '/api/plants/:plant/runs', {
    summary: 'Saved runs, newest first, 50 a page',
    query: choice,
    reply: runsReply,
    handle(context, { params, query: { class: className, ...rest }, request }) {
      const { plant } = plantOf(context, params.plant)
      const { access, trials } = context
      const reply = trials.runs(plant.id, { ...rest, ...(className === undefined ? {} : { className }) })
      if (knowsPeople(access, request)) return reply
      return { ...reply, runs: reply.runs.map((run) => runWithRole(run, access)) }
    },
  }),
  post('trial', '/api/plants/:plant/runs', {
    summary: 'Start a run; one may be under way at a plant',
    action: 'start a run',
    body: runRequest,
    reply: z.object({ run: number }),
    handle: (context, { params, body, request }) =>
      given(context.trials.start(plantOf(context, params.plant), body, actorOf(context, request).name)),
  }),
  get('read', '/api/plants/:plant/runs/:run', {
    summary: 'A run: points, curve, and guidance while it is under way',
    reply: runReply,
    async handle(context, { params, request }) {
      const { access, trials } = context
      const reply = given(await trials.run(...placeOf(context, params)))
      return knowsPeople(access, request) ? reply : replyWithRoles(reply, access)
    },
  }),
  get('read', '/api/plants/:plant/runs/:run/pack', {
    summary: 'Zip: raw and reduced CSV, JSON, method sheet, plots, worked point, printable record, checksums',
    reply: ZIP,
    async handle(context, { params, request }) {
      checkKnowsPeople(context, request)
      const [plant, run] = placeOf(context, params)
      const content = await inTurn(context, request, () => context.trials.pack(plant, run))
      return { content: given(content), name: `${plant}-run-${run}.zip` }
    },
  }),
  get('read', '/api/plants/:plant/runs/:run/record', {
    summary: 'The record of a run as HTML that prints on A4',
    reply: { media: 'text/html' },
    async handle(context, { params, request }) {
      checkKnowsPeople(context, request)
      const place = placeOf(context, params)
      const content = given(await inTurn(context, request, () => context.trials.record(...place)))
      return { content, policy: RECORD_POLICY }
    },
  }),
  post('trial', '/api/plants/:plant/runs/:run/points', {
    summary: 'Enter a point that somebody read',
    action: 'enter a point',
    body: manualPointRequest,
    reply: z.object({ number }),
    handle: (context, { params, body, request }) =>
      given(
        context.trials.enter(...placeOf(context, params), { ...body, by: actorOf(context, request).name }),
      ),
  }),
  post('trial', '/api/plants/:plant/runs/:run/points/:point', {
    summary: 'Keep or reject a point',
    action: 'decide on a point',
    body: verdictRequest,
    reply: OK,
    handle: (context, asked) => decide(context, asked, { takes: 'points', number: asked.params.point }),
  }),
  post('trial', '/api/plants/:plant/runs/:run/arm', {
    summary: 'Arm a run that records traces, go on with one of points that rests, or stand down',
    action: 'arm a run',
    body: armRequest,
    reply: OK,
    handle: (context, { params, body }) => done(context.trials.arm(...placeOf(context, params), body.armed)),
  }),
  get('read', '/api/plants/:plant/runs/:run/traces/:trace', {
    summary: 'Readings of a trace to draw; the pack has every one',
    reply: traceReply,
    handle: async (context, { params }) =>
      given(await context.trials.trace(...placeOf(context, params), params.trace)),
  }),
  post('trial', '/api/plants/:plant/runs/:run/traces/:trace', {
    summary: 'Keep or reject a trace',
    action: 'decide on a trace',
    body: verdictRequest,
    reply: OK,
    handle: (context, asked) => decide(context, asked, { takes: 'traces', number: asked.params.trace }),
  }),
  post('trial', '/api/plants/:plant/runs/:run/repeat', {
    summary: 'Take the next steady state even if it repeats a point',
    action: 'repeat a point',
    body: NOTHING,
    reply: OK,
    handle: (context, { params }) => done(context.trials.repeat(...placeOf(context, params))),
  }),
  get('read', '/api/plants/:plant/runs/:run/notes', {
    summary: 'Names and notes of a run as they were saved',
    reply: notesReply,
    handle(context, { params, request }) {
      const { access, trials } = context
      const { versions } = given(trials.notes(...placeOf(context, params)))
      return {
        versions: knowsPeople(access, request) ? versions : versions.map((one) => runWithRole(one, access)),
      }
    },
  }),
  post('trial', '/api/plants/:plant/runs/:run/notes', {
    summary: 'Edit names and notes; what stood there before is kept, readings cannot be edited',
    action: 'edit notes',
    body: notesRequest,
    reply: OK,
    handle: (context, { params, body, request }) =>
      done(context.trials.edit(...placeOf(context, params), { ...body, ...byWhom(context, request) })),
  }),
  post('trial', '/api/plants/:plant/runs/:run/finish', {
    summary: 'End a run',
    action: 'end a run',
    body: NOTHING,
    reply: OK,
    handle: (context, { params }) => done(context.trials.finish(...placeOf(context, params))),
  }),
]

function decide(
  context: RouteContext,
  { params, body, request }: Asked<{ plant: string; run: number }, unknown, VerdictRequest>,
  take: Pick<DecisionWish, 'takes' | 'number'>,
) {
  const wish = { ...body, ...take, ...byWhom(context, request) }
  return done(context.trials.decide(...placeOf(context, params), wish))
}

function byWhom(context: RouteContext, request: IncomingMessage): By {
  return { by: actorOf(context, request).name, mayAmend: context.access.may(request, 'amend') }
}

/** @throws {HttpFault} 404 for an unknown plant. */
function placeOf(
  context: RouteContext,
  { plant, run }: { plant: string; run: number },
): [plant: string, run: number] {
  return [plantOf(context, plant).plant.id, run]
}
