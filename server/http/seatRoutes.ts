import { z } from 'zod'
import { readVisitor, SEAT_COOKIE } from '../access/visitor.ts'
import type { Seat } from '../lessons/lessonStore.ts'
import { LONGEST_MS } from '../lessons/lessons.ts'
import { AFTER_MS } from '../lessons/seats.ts'
import { explainReply } from '../wire/explain.ts'
import { predictionRequest, recordRequest, seatReply, seatRequest } from '../wire/lesson.ts'
import { snapshot } from '../wire/plant.ts'
import { number, textUpTo } from '../wire/shape.ts'
import { given, HttpFault } from './errors.ts'
import { type Asked, done, get, OK, post, type RouteContext, remove, ZIP } from './route.ts'

/** A phone's side of a lesson: which one follows from its seat, so that no address names another's. */
export const seatRoutes = [
  post('open', '/api/seat', {
    summary: 'Join a lesson; the answer sets a cookie. 429 with Retry-After after wrong codes',
    action: 'join a lesson',
    body: seatRequest,
    isSecret: true,
    reply: z.object({ lesson: number, group: number }),
    handle({ lessons }, { body, request, response, note }) {
      const { address } = readVisitor(request)
      const joined = given(lessons.join({ ...body, address }, lessons.seats.of(request)))
      const { token, ...seat } = joined
      note(noteOf(seat))
      if (token !== null)
        response.append('Set-Cookie', SEAT_COOKIE.line(request, token, LONGEST_MS + AFTER_MS))
      return seat
    },
  }),
  remove('attend', '/api/seat', {
    summary: 'Leave the lesson',
    action: 'leave a lesson',
    reply: OK,
    handle(context, asked) {
      const seat = actingSeat(context, asked)
      if (!context.lessons.seats.leave(seat.key))
        throw new HttpFault(503, { error: 'It could not be stored. Try again.' })
      asked.response.append('Set-Cookie', SEAT_COOKIE.line(asked.request, '', 0))
      return { ok: true } as const
    },
  }),
  get('attend', '/api/seat', {
    summary: 'What this phone’s group has: records, prediction, points to take',
    reply: seatReply,
    handle(context, asked) {
      const view = context.lessons.groups.view(seatOf(context, asked))
      if (!view) throw new HttpFault(404, { error: 'There is no such lesson any more.' })
      return view
    },
  }),
  get('attend', '/api/seat/live', {
    summary: 'Everything that the class is shown',
    reply: snapshot,
    handle(context, asked) {
      const scene = context.lessons.scene(`lesson:${seatOf(context, asked).lesson}`)
      if (!scene) throw new HttpFault(409, { error: 'This lesson has ended.' })
      return context.hub.snapshotOf(scene)
    },
  }),
  get('attend', '/api/seat/pack', {
    summary: 'Zip: records and predictions of the own group',
    reply: ZIP,
    async handle(context, asked) {
      const { lesson, group } = seatOf(context, asked)
      const { zip, name } = given(await context.lessons.pack(lesson, group))
      return { content: zip, name }
    },
  }),
  get('attend', '/api/seat/figures/:figure/explain', {
    summary: 'Where a figure comes from, as the class may see it',
    reply: explainReply,
    handle: (context, asked) =>
      given(context.lessons.groups.explain(seatOf(context, asked), asked.params.figure)),
  }),
  post('attend', '/api/seat/records', {
    summary: 'Mark a record; the same key again makes no second one',
    action: 'record',
    body: recordRequest,
    reply: z.object({ number }),
    handle(context, asked) {
      const marked = given(context.lessons.groups.record(actingSeat(context, asked), asked.body))
      asked.note({ detail: `record ${marked.number}` })
      return marked
    },
  }),
  post('attend', '/api/seat/records/:record/remark', {
    summary: 'Write a remark to an own record',
    action: 'remark',
    body: z.strictObject({ remark: textUpTo(300) }),
    reply: OK,
    handle: (context, asked) =>
      done(context.lessons.groups.remark(actingSeat(context, asked), asked.params.record, asked.body.remark)),
  }),
  post('attend', '/api/seat/records/:record/strike', {
    summary: 'Strike an own record out; it stays with the reason',
    action: 'strike out',
    body: z.strictObject({ reason: textUpTo(300).min(3) }),
    reply: OK,
    handle: (context, asked) =>
      done(context.lessons.groups.strike(actingSeat(context, asked), asked.params.record, asked.body.reason)),
  }),
  post('attend', '/api/seat/predictions', {
    summary: 'Predict the figure that is asked for; again replaces it',
    action: 'predict',
    body: predictionRequest,
    reply: OK,
    handle: (context, asked) => done(context.lessons.groups.predict(actingSeat(context, asked), asked.body)),
  }),
]

type Phone = Pick<Asked<unknown, unknown, unknown>, 'request' | 'note'>

/** The gate has let no browser through without one. @throws {HttpFault} 401 */
function seatOf({ lessons }: RouteContext, { request }: Phone): Seat {
  const seat = lessons.seats.of(request)
  if (!seat) throw new HttpFault(401, { error: 'Join the lesson first.' })
  return seat
}

/** The seat of a phone that changes something. */
function actingSeat(context: RouteContext, phone: Phone): Seat {
  const seat = seatOf(context, phone)
  phone.note(noteOf(seat))
  return seat
}

/** Phones have no names: the audit tells the group. */
function noteOf({ lesson, group }: Pick<Seat, 'lesson' | 'group'>) {
  return { who: `group ${group}`, target: `lessons/${lesson}` }
}
