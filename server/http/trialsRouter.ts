import { type RequestHandler, Router } from 'express'
import { z } from 'zod'
import type { Outcome } from '../outcome.ts'
import type { ManualPointRequest } from '../wire/trial.ts'
import { actorOf, type HttpContext } from './context.ts'
import { readInput } from './errors.ts'
import { defined, given } from './given.ts'
import { plantOf } from './plantsRouter.ts'

const text = (longest: number) => z.string().trim().max(longest)
const names = { className: text(80).optional(), group: text(80).optional(), year: text(20).optional() }
const start = z.strictObject({ trial: text(64), typed: text(64).optional(), name: text(80).min(1), ...names })
const notes = z.strictObject({ name: text(80).min(1).optional(), ...names, notes: text(4000).optional() })
const verdict = z.strictObject({ verdict: z.enum(['kept', 'rejected']), reason: text(300).optional() })
const amount = z.strictObject({
  value: z.number(),
  unit: z.string().max(16),
  u: z.number().nonnegative().optional(),
})
const manual = z.strictObject({
  by: text(80).min(1),
  figures: z
    .array(
      z.strictObject({
        figure: z.string().max(64),
        value: z.number(),
        unit: z.string().max(16),
        u: z.number().nonnegative().optional(),
      }),
    )
    .max(40),
  isPresent: z.boolean().optional(),
  reading: z
    .strictObject({
      figure: z.string().max(64),
      means: z.enum(['bucket', 'springBalance']),
      first: amount,
      second: amount,
    })
    .optional(),
})
const arm = z.strictObject({ armed: z.boolean() })
const nothing = z.strictObject({})
/** "class" as in the address; "" stands for any. */
const wish = z.strictObject({
  trial: text(64).optional(),
  class: text(80).optional(),
  group: text(80).optional(),
  year: text(20).optional(),
  before: z.coerce.number().int().min(1).optional(),
})
/** The record brings its own look and nothing else. */
const RECORD_POLICY =
  "default-src 'none'; style-src 'unsafe-inline'; base-uri 'none'; form-action 'none'; frame-ancestors 'none'"
const whole = z.coerce.number().int().min(1)

/** Guided tests of a plant and their runs. */
export function trialsRouter(context: HttpContext): Router {
  const router = Router()
  const { trials } = context
  const path = '/plants/:plant/runs/:run'

  router.get('/plants/:plant/trials', (request, response) => {
    response.json(trials.list(plantOf(context, request)))
  })
  router.get('/plants/:plant/runs', (request, response) => {
    const { plant } = plantOf(context, request)
    const { class: className, ...rest } = readInput(wish, request.query, 'query')
    response.json(trials.runs(plant.id, defined({ ...rest, className })))
  })
  router.post('/plants/:plant/runs', (request, response) => {
    const asked = defined(readInput(start, request.body, 'body'))
    response.json(given(trials.start(plantOf(context, request), asked, actorOf(context, request).name)))
  })
  router.get(path, async (request, response) => {
    response.json(given(await trials.run(...placeOf(context, request))))
  })
  router.get(`${path}/pack`, async (request, response) => {
    const [plant, run] = placeOf(context, request)
    const zip = given(await trials.pack(plant, run))
    response.attachment(`${plant}-run-${run}.zip`).type('application/zip').send(Buffer.from(zip))
  })
  router.get(`${path}/record`, async (request, response) => {
    const html = given(await trials.record(...placeOf(context, request)))
    response.set('Content-Security-Policy', RECORD_POLICY).type('html').send(html)
  })
  router.post(`${path}/points`, (request, response) => {
    const place = placeOf(context, request)
    const { figures, ...rest } = readInput(manual, request.body, 'body')
    const wish = { ...rest, figures: figures.map(defined) } as ManualPointRequest
    response.json(given(trials.enter(...place, wish)))
  })
  router.post(`${path}/points/:point`, (request, response) => {
    const place = placeOf(context, request)
    const number = readInput(whole, request.params['point'], 'point')
    const asked = defined(readInput(verdict, request.body, 'body'))
    answer(response, trials.decide(...place, { ...asked, number, by: actorOf(context, request).name }))
  })
  router.post(`${path}/arm`, (request, response) => {
    const { armed } = readInput(arm, request.body, 'body')
    answer(response, trials.arm(...placeOf(context, request), armed))
  })
  router.get(`${path}/traces/:trace`, async (request, response) => {
    const number = readInput(whole, request.params['trace'], 'trace')
    response.json(given(await trials.trace(...placeOf(context, request), number)))
  })
  router.post(`${path}/traces/:trace`, (request, response) => {
    const place = placeOf(context, request)
    const number = readInput(whole, request.params['trace'], 'trace')
    const wish = defined(readInput(verdict, request.body, 'body'))
    answer(response, trials.decideTrace(...place, { ...wish, number }))
  })
  router.post(`${path}/repeat`, (request, response) => {
    readInput(nothing, request.body, 'body')
    answer(response, trials.repeat(...placeOf(context, request)))
  })
  router.post(`${path}/notes`, (request, response) => {
    const asked = defined(readInput(notes, request.body, 'body'))
    answer(response, trials.edit(...placeOf(context, request), asked))
  })
  router.post(`${path}/finish`, (request, response) => {
    readInput(nothing, request.body, 'body')
    answer(response, trials.finish(...placeOf(context, request)))
  })
  return router
}

/** @throws {HttpFault} 404 for an unknown plant, 400 for what is no run number. */
function placeOf(context: HttpContext, request: Parameters<RequestHandler>[0]): [plant: string, run: number] {
  const { plant } = plantOf(context, request)
  return [plant.id, readInput(whole, request.params['run'], 'run')]
}

function answer(response: Parameters<RequestHandler>[1], done: Outcome<null>): void {
  given(done)
  response.json({ ok: true })
}
