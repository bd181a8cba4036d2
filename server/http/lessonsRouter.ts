import { type Request, Router } from 'express'
import { z } from 'zod'
import { joinAddresses } from '../lessons/joinAddress.ts'
import type { Outcome } from '../outcome.ts'
import { noteForAudit } from './auditTrail.ts'
import { actorOf, type HttpContext } from './context.ts'
import { readInput } from './errors.ts'
import { defined, given } from './given.ts'
import { plantOf } from './plantsRouter.ts'

const text = (longest: number) => z.string().trim().max(longest)
const figureId = z.string().max(64)
const point = z.strictObject({ run: z.number().int().min(1), number: z.number().int().min(1) })
const open = z.strictObject({ title: text(80).min(1) })
const arrange = z.strictObject({
  title: text(80).min(1).optional(),
  numbers: z.array(figureId).max(6).optional(),
  hidden: z.array(figureId).max(200).optional(),
  explained: figureId.nullable().optional(),
  source: text(64).min(1).optional(),
})
const freeze = z.strictObject({ frozen: z.boolean() })
const ask = z.strictObject({ text: text(200).min(3), figure: figureId })
const reveal = z.strictObject({ point: point.optional() })
const nothing = z.strictObject({})
const whole = z.coerce.number().int().min(1)

export const groupName = z
  .string()
  .transform((typed) => typed.normalize('NFKC').trim().replace(/\s+/g, ' '))
  .refine((typed) => /^[\p{L}\p{M}\p{N} .,'’_+&-]{1,30}$/u.test(typed), {
    error: 'expected 1 to 30 letters, digits or spaces',
  })

/** The instructor's side of classes. */
export function lessonsRouter(context: HttpContext, host: string): Router {
  const router = Router()
  const { lessons } = context
  const { desk } = lessons
  const path = '/lessons/:lesson'

  router.get('/plants/:plant/lessons', (request, response) => {
    response.json(lessons.list(plantOf(context, request).plant.id))
  })
  router.post('/plants/:plant/lessons', (request, response) => {
    const { title } = readInput(open, request.body, 'body')
    const { lesson } = given(lessons.open(plantOf(context, request), title, actorOf(context, request).name))
    noteForAudit(response, { detail: `class ${lesson}` })
    response.json({ lesson })
  })
  router.get(path, (request, response) => {
    response.json(given(desk.view(lessonOf(request), joinAddresses(request, host))))
  })
  router.get(`${path}/pack`, async (request, response) => {
    const { zip, name } = given(await lessons.pack(lessonOf(request)))
    response.attachment(name).type('application/zip').send(Buffer.from(zip))
  })
  router.get(`${path}/figures/:figure/explain`, (request, response) => {
    response.json(given(desk.explain(lessonOf(request), request.params.figure)))
  })

  /** A deed with a body, answered with nothing but that it was done. */
  function deed<T>(
    where: string,
    schema: z.ZodType<T>,
    act: (request: Request, wish: T) => Outcome<null>,
  ): void {
    router.post(`${path}/${where}`, (request, response) => {
      given(act(request, readInput(schema, request.body, 'body')))
      response.json({ ok: true })
    })
  }

  deed('arrange', arrange, (request, wish) => desk.arrange(lessonOf(request), defined(wish)))
  deed('freeze', freeze, (request, { frozen }) => desk.freeze(lessonOf(request), frozen))
  deed('questions', ask, (request, question) => desk.ask(lessonOf(request), question))
  deed('questions/:question/close', nothing, (request) =>
    desk.closeQuestion(lessonOf(request), numberOf(request, 'question')),
  )
  deed('questions/:question/reveal', reveal, (request, wish) =>
    desk.reveal(lessonOf(request), numberOf(request, 'question'), wish.point),
  )
  deed('end', nothing, (request) => desk.end(lessonOf(request)))
  router.patch(`${path}/groups/:group`, (request, response) => {
    const { name } = readInput(z.strictObject({ name: groupName }), request.body, 'body')
    given(desk.rename(lessonOf(request), numberOf(request, 'group'), name))
    response.json({ ok: true })
  })
  router.delete(`${path}/groups/:group`, (request, response) => {
    given(desk.remove(lessonOf(request), numberOf(request, 'group')))
    response.json({ ok: true })
  })
  return router
}

/** @throws {HttpFault} 400 for what is no number. */
function numberOf(request: Request, name: string): number {
  return readInput(whole, request.params[name], name)
}

const lessonOf = (request: Request) => numberOf(request, 'lesson')
