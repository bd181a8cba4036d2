import { z } from 'zod'
import type { CheckView, RunFindings, TheoryView, TrialResult } from '../wire/findings.ts'
import type { TrialPoint } from '../wire/point.ts'
import type { TraceReply, TraceTogether, TraceView } from '../wire/trace.ts'
import type {
  PointGuidance,
  PointTrialView,
  RunReply,
  RunSummary,
  RunsReply,
  TraceGuidance,
  TraceTrialView,
  TrialsReply,
  TrialView,
} from '../wire/trial.ts'
import { actorOf } from './context.ts'
import { given } from './errors.ts'
import { plantOf } from './plantsRoutes.ts'
import { done, get, NOTHING, OK, post, type RouteContext, textUpTo, ZIP } from './route.ts'
import { number, objectOf, shapeOf, text, time, timeOrNull } from './shapes.ts'

const names = {
  className: textUpTo(80).exactOptional(),
  group: textUpTo(80).exactOptional(),
  year: textUpTo(20).exactOptional(),
}
const verdict = z.strictObject({
  verdict: z.enum(['kept', 'rejected']),
  reason: textUpTo(300).exactOptional(),
})
const amount = z.strictObject({
  value: z.number(),
  unit: z.string().max(16),
  u: z.number().nonnegative().exactOptional().describe('Standard uncertainty'),
})
const figure = z.string().max(64)
const typedPoint = z.strictObject({
  by: textUpTo(80).min(1),
  figures: z.array(amount.extend({ figure })).max(40),
  isPresent: z.boolean().exactOptional(),
  reading: z
    .strictObject({
      figure,
      means: z.enum(['bucket', 'springBalance']),
      first: amount,
      second: amount,
    })
    .exactOptional(),
})
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
const RECORD_POLICY =
  "default-src 'none'; style-src 'unsafe-inline'; base-uri 'none'; form-action 'none'; frame-ancestors 'none'"

const trial = objectOf<TrialView>('A trial as it can, or cannot, be done here')
const summary = shapeOf<RunSummary>()(
  z
    .object({
      id: number,
      plant: text,
      trial: text,
      trialName: text,
      name: text,
      className: text,
      group: text,
      year: text,
      startedAt: time,
      finishedAt: timeOrNull,
      by: text,
      notes: text,
      takes: z.enum(['points', 'traces']),
      kept: number,
      rejected: number,
    })
    .meta({ id: 'Run' }),
)
const result = objectOf<TrialResult>('The curve through the points, or what it lacks')
const theory = objectOf<TheoryView>('What the plant file predicts')
const found = {
  run: summary,
  points: z.array(objectOf<TrialPoint>('A point with its figures and their uncertainties')),
  checks: z.array(objectOf<CheckView>('What a sound result looks like, and what the run says to it')),
}
const runReply = z.discriminatedUnion('takes', [
  z.object({
    ...found,
    takes: z.literal('points'),
    trial: objectOf<PointTrialView>('The trial as it was when the run began'),
    result,
    unitResult: result.nullable(),
    theory: theory.nullable(),
    unitTheory: theory.nullable(),
    findings: objectOf<RunFindings>('What points and result say besides the one curve'),
    guidance: objectOf<PointGuidance>('What to do next; only while the run is under way').nullable(),
  }),
  z.object({
    ...found,
    takes: z.literal('traces'),
    trial: objectOf<TraceTrialView>('The trial as it was when the run began'),
    traces: z.array(objectOf<TraceView>('A trace and what it says')),
    together: objectOf<TraceTogether>('What the kept traces say together'),
    guidance: objectOf<TraceGuidance>('What to do next; only while the run is under way').nullable(),
  }),
])
const choices = z.object({
  trials: z.array(z.object({ id: text, name: text })),
  classes: z.array(text),
  groups: z.array(text),
  years: z.array(text),
})
const runsReply = z.object({
  runs: z.array(summary),
  total: number,
  before: number.nullable(),
  choices,
})
const traceReply = z.object({
  number,
  zeroAt: time,
  lines: z.array(z.object({ quantity: text, at: z.array(number), value: z.array(number) })),
})

/** Guided tests of a plant and their runs. */
export const trialsRoutes = [
  get('read', '/api/plants/:plant/trials', {
    summary: 'Guided tests, what each needs here, and the run under way',
    reply: shapeOf<TrialsReply>()(z.object({ trials: z.array(trial), underWay: summary.nullable() })),
    handle: (context, { params }) => context.trials.list(plantOf(context, params.plant)),
  }),
  get('read', '/api/plants/:plant/runs', {
    summary: 'Saved runs, newest first, 50 a page',
    query: choice,
    reply: shapeOf<RunsReply>()(runsReply),
    handle(context, { params, query: { class: className, ...rest } }) {
      const { plant } = plantOf(context, params.plant)
      return context.trials.runs(plant.id, { ...rest, ...(className === undefined ? {} : { className }) })
    },
  }),
  post('trial', '/api/plants/:plant/runs', {
    summary: 'Start a run; one may be under way at a plant',
    action: 'start a run',
    body: z.strictObject({
      trial: textUpTo(64),
      typed: textUpTo(64).exactOptional().describe('Figure that is typed at each point'),
      name: textUpTo(80).min(1),
      ...names,
    }),
    reply: z.object({ run: number }),
    handle: (context, { params, body, request }) =>
      given(context.trials.start(plantOf(context, params.plant), body, actorOf(context, request).name)),
  }),
  get('read', '/api/plants/:plant/runs/:run', {
    summary: 'A run: points, curve, and guidance while it is under way',
    reply: shapeOf<RunReply>()(runReply),
    handle: async (context, { params }) => given(await context.trials.run(...placeOf(context, params))),
  }),
  get('read', '/api/plants/:plant/runs/:run/pack', {
    summary: 'Zip: raw and reduced CSV, JSON, method sheet, plots, worked point, printable record, checksums',
    reply: ZIP,
    async handle(context, { params }) {
      const [plant, run] = placeOf(context, params)
      return { content: given(await context.trials.pack(plant, run)), name: `${plant}-run-${run}.zip` }
    },
  }),
  get('read', '/api/plants/:plant/runs/:run/record', {
    summary: 'The record of a run as HTML that prints on A4',
    reply: { media: 'text/html' },
    async handle(context, { params }) {
      const content = given(await context.trials.record(...placeOf(context, params)))
      return { content, policy: RECORD_POLICY }
    },
  }),
  post('trial', '/api/plants/:plant/runs/:run/points', {
    summary: 'Enter a point that somebody read',
    action: 'enter a point',
    body: typedPoint,
    reply: z.object({ number }),
    handle: (context, { params, body }) => given(context.trials.enter(...placeOf(context, params), body)),
  }),
  post('trial', '/api/plants/:plant/runs/:run/points/:point', {
    summary: 'Keep or reject a point',
    action: 'judge a point',
    body: verdict,
    reply: OK,
    handle(context, { params, body, request }) {
      const take = { takes: 'points', number: params.point } as const
      return done(
        context.trials.decide(...placeOf(context, params), {
          ...body,
          ...take,
          by: actorOf(context, request).name,
        }),
      )
    },
  }),
  post('trial', '/api/plants/:plant/runs/:run/arm', {
    summary: 'Arm a run that records traces, or stand down',
    action: 'arm a trace',
    body: z.strictObject({ armed: z.boolean() }),
    reply: OK,
    handle: (context, { params, body }) => done(context.trials.arm(...placeOf(context, params), body.armed)),
  }),
  get('read', '/api/plants/:plant/runs/:run/traces/:trace', {
    summary: 'Readings of a trace to draw; the pack has every one',
    reply: shapeOf<TraceReply>()(traceReply),
    handle: async (context, { params }) =>
      given(await context.trials.trace(...placeOf(context, params), params.trace)),
  }),
  post('trial', '/api/plants/:plant/runs/:run/traces/:trace', {
    summary: 'Keep or reject a trace',
    action: 'judge a trace',
    body: verdict,
    reply: OK,
    handle(context, { params, body, request }) {
      const take = { takes: 'traces', number: params.trace } as const
      return done(
        context.trials.decide(...placeOf(context, params), {
          ...body,
          ...take,
          by: actorOf(context, request).name,
        }),
      )
    },
  }),
  post('trial', '/api/plants/:plant/runs/:run/repeat', {
    summary: 'Take the next steady state even if it repeats a point',
    action: 'repeat a point',
    body: NOTHING,
    reply: OK,
    handle: (context, { params }) => done(context.trials.repeat(...placeOf(context, params))),
  }),
  post('trial', '/api/plants/:plant/runs/:run/notes', {
    summary: 'Edit names and notes; readings cannot be edited',
    action: 'edit notes',
    body: z.strictObject({
      name: textUpTo(80).min(1).exactOptional(),
      ...names,
      notes: textUpTo(4000).exactOptional(),
    }),
    reply: OK,
    handle: (context, { params, body }) => done(context.trials.edit(...placeOf(context, params), body)),
  }),
  post('trial', '/api/plants/:plant/runs/:run/finish', {
    summary: 'End a run',
    action: 'end a run',
    body: NOTHING,
    reply: OK,
    handle: (context, { params }) => done(context.trials.finish(...placeOf(context, params))),
  }),
]

/** @throws {HttpFault} 404 for an unknown plant. */
function placeOf(
  context: RouteContext,
  { plant, run }: { plant: string; run: number },
): [plant: string, run: number] {
  return [plantOf(context, plant).plant.id, run]
}
