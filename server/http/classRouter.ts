import { type Request, type Response, Router } from 'express'
import { z } from 'zod'
import { SEAT_COOKIE } from '../access/cookies.ts'
import { readVisitor } from '../access/visitor.ts'
import type { Seat } from '../lessons/lessonStore.ts'
import { LONGEST_MS } from '../lessons/lessons.ts'
import { AFTER_MS } from '../lessons/seats.ts'
import { noteForAudit } from './auditTrail.ts'
import type { HttpContext } from './context.ts'
import { HttpFault, readInput } from './errors.ts'
import { defined, given } from './given.ts'
import { groupName } from './lessonsRouter.ts'

const LONGEST_AGE_MS = 30 * 86_400_000

const text = (longest: number) => z.string().trim().max(longest)
const join = z.strictObject({ code: z.string().max(40), group: groupName })
const whole = z.coerce.number().int().min(1)
const record = z.strictObject({
  key: z.string().regex(/^[0-9A-Za-z_-]{8,64}$/, { error: 'expected 8 to 64 letters and digits' }),
  ageMs: z.number().min(0).max(LONGEST_AGE_MS),
  remark: text(300).optional(),
  point: z.strictObject({ run: whole, number: whole }).optional(),
})
const remark = z.strictObject({ remark: text(300) })
const strike = z.strictObject({ reason: text(300).min(3) })
const prediction = z.strictObject({
  question: z.number().int().min(1),
  value: z.number(),
  u: z.number().nonnegative().optional(),
})

/** A phone's side of a class: which one follows from its seat, so that no address names another's. */
export function classRouter({ lessons, hub }: HttpContext): Router {
  const router = Router()
  const { groups, seats } = lessons

  router.post('/class/seat', (request, response) => {
    const wish = readInput(join, request.body, 'body')
    const { address } = readVisitor(request)
    const joined = given(lessons.join({ ...wish, address }, seats.of(request)))
    noteForAudit(response, { who: `group ${joined.group}`, target: `lessons/${joined.lesson}` })
    if (joined.token !== null)
      response.append('Set-Cookie', SEAT_COOKIE.line(request, joined.token, LONGEST_MS + AFTER_MS))
    response.json({ lesson: joined.lesson, group: joined.group })
  })
  router.delete('/class/seat', (request, response) => {
    const seat = seatOf(request)
    note(response, seat)
    if (!seats.leave(seat.key)) throw new HttpFault(503, { error: 'It could not be stored. Try again.' })
    response.append('Set-Cookie', SEAT_COOKIE.line(request, '', 0))
    response.json({ ok: true })
  })
  router.get('/class', (request, response) => {
    const view = groups.view(seatOf(request))
    if (!view) throw new HttpFault(404, { error: 'There is no such class any more.' })
    response.json(view)
  })
  router.get('/class/live', (request, response) => {
    const scene = lessons.scene(`lesson:${seatOf(request).lesson}`)
    if (!scene) throw new HttpFault(409, { error: 'This class has ended.' })
    response.json(hub.snapshotOf(scene))
  })
  router.get('/class/pack', async (request, response) => {
    const { lesson, group } = seatOf(request)
    const { zip, name } = given(await lessons.pack(lesson, group))
    response.attachment(name).type('application/zip').send(Buffer.from(zip))
  })
  router.get('/class/figures/:figure/explain', (request, response) => {
    response.json(given(groups.explain(seatOf(request), request.params.figure)))
  })
  router.post('/class/records', (request, response) => {
    const seat = seatOf(request)
    const wish = defined(readInput(record, request.body, 'body'))
    note(response, seat)
    const { number } = given(groups.record(seat, wish))
    noteForAudit(response, { detail: `record ${number}` })
    response.json({ number })
  })
  router.post('/class/records/:record/remark', (request, response) => {
    const wish = readInput(remark, request.body, 'body')
    const seat = seatOf(request)
    note(response, seat)
    given(groups.remark(seat, readInput(whole, request.params.record, 'record'), wish.remark))
    response.json({ ok: true })
  })
  router.post('/class/records/:record/strike', (request, response) => {
    const wish = readInput(strike, request.body, 'body')
    const seat = seatOf(request)
    note(response, seat)
    given(groups.strike(seat, readInput(whole, request.params.record, 'record'), wish.reason))
    response.json({ ok: true })
  })
  router.post('/class/predictions', (request, response) => {
    const seat = seatOf(request)
    const wish = defined(readInput(prediction, request.body, 'body'))
    note(response, seat)
    given(groups.predict(seat, wish))
    response.json({ ok: true })
  })
  return router

  /** The gate has let no browser through without one. @throws {HttpFault} 401 */
  function seatOf(request: Request): Seat {
    const seat = seats.of(request)
    if (!seat) throw new HttpFault(401, { error: 'Join the class first.' })
    return seat
  }
}

/** Phones have no names: the audit tells the group. */
function note(response: Response, { lesson, group }: Seat): void {
  noteForAudit(response, { who: `group ${group}`, target: `lessons/${lesson}` })
}
