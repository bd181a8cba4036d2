import { z } from 'zod'
import { joinAddresses } from '../lessons/joining.ts'
import { explainReply } from '../wire/explain.ts'
import { arrangeRequest, deskReply, groupName, lessonSummary, pointName } from '../wire/lesson.ts'
import { figureId, number, textUpTo } from '../wire/shape.ts'
import { actorOf } from './context.ts'
import { given } from './errors.ts'
import { plantOf } from './plantsRoutes.ts'
import { done, get, NOTHING, OK, patch, post, remove, ZIP } from './route.ts'

/** The instructor's side of lessons. */
export const lessonsRoutes = [
  get('teach', '/api/plants/:plant/lessons', {
    summary: 'Lessons of a plant, newest first',
    reply: z.array(lessonSummary),
    handle: (context, { params }) => context.lessons.list(plantOf(context, params.plant).plant.id),
  }),
  post('teach', '/api/plants/:plant/lessons', {
    summary: 'Open a lesson; it ends by hand or after 12 h',
    action: 'open a lesson',
    body: z.strictObject({ title: textUpTo(80).min(1) }),
    reply: z.object({ lesson: number }),
    handle(context, { params, body, request, note }) {
      const live = plantOf(context, params.plant)
      const opened = given(context.lessons.open(live, body.title, actorOf(context, request).name))
      note({ detail: `lesson ${opened.lesson}` })
      return opened
    },
  }),
  get('teach', '/api/lessons/:lesson', {
    summary: 'The instructor’s desk: code, groups, questions, what is hidden',
    reply: deskReply,
    handle: ({ lessons, host }, { params, request }) =>
      given(lessons.desk.view(params.lesson, joinAddresses(request, host))),
  }),
  get('teach', '/api/lessons/:lesson/pack', {
    summary: 'Zip: records and predictions of every group',
    reply: ZIP,
    async handle({ lessons }, { params }) {
      const { zip, name } = given(await lessons.pack(params.lesson))
      return { content: zip, name }
    },
  }),
  get('teach', '/api/lessons/:lesson/figures/:figure/explain', {
    summary: 'Where a figure comes from, as the class may see it',
    reply: explainReply,
    handle: ({ lessons }, { params }) => given(lessons.desk.explain(params.lesson, params.figure)),
  }),
  post('teach', '/api/lessons/:lesson/arrange', {
    summary: 'Choose numbers for the large screen, what is hidden, what is shown',
    action: 'arrange a lesson',
    body: arrangeRequest,
    reply: OK,
    handle: ({ lessons }, { params, body }) => done(lessons.desk.arrange(params.lesson, body)),
  }),
  post('teach', '/api/lessons/:lesson/freeze', {
    summary: 'Keep the figures of this moment, or let them go on',
    action: 'freeze',
    body: z.strictObject({ frozen: z.boolean() }),
    reply: OK,
    handle: ({ lessons }, { params, body }) => done(lessons.desk.freeze(params.lesson, body.frozen)),
  }),
  post('teach', '/api/lessons/:lesson/questions', {
    summary: 'Hide a figure and let groups predict it',
    action: 'ask',
    body: z.strictObject({ text: textUpTo(200).min(3), figure: figureId }),
    reply: OK,
    handle: ({ lessons }, { params, body }) => done(lessons.desk.ask(params.lesson, body)),
  }),
  post('teach', '/api/lessons/:lesson/questions/:question/close', {
    summary: 'Take no more predictions',
    action: 'close predictions',
    body: NOTHING,
    reply: OK,
    handle: ({ lessons }, { params }) => done(lessons.desk.closeQuestion(params.lesson, params.question)),
  }),
  post('teach', '/api/lessons/:lesson/questions/:question/reveal', {
    summary: 'Show the true figure and the predictions',
    action: 'reveal',
    body: z.strictObject({ point: pointName.exactOptional() }),
    reply: OK,
    handle: ({ lessons }, { params, body }) =>
      done(lessons.desk.reveal(params.lesson, params.question, body.point)),
  }),
  patch('teach', '/api/lessons/:lesson/groups/:group', {
    summary: 'Rename a group',
    action: 'rename a group',
    body: z.strictObject({ name: groupName }),
    reply: OK,
    handle: ({ lessons }, { params, body }) =>
      done(lessons.desk.rename(params.lesson, params.group, body.name)),
  }),
  remove('teach', '/api/lessons/:lesson/groups/:group', {
    summary: 'Remove a group with its phones; its records stay',
    action: 'remove a group',
    reply: OK,
    handle: ({ lessons }, { params }) => done(lessons.desk.remove(params.lesson, params.group)),
  }),
  post('teach', '/api/lessons/:lesson/joining', {
    summary: 'Let phones join, or nobody any more; who has joined stays',
    action: 'open joining',
    body: z.strictObject({ isOpen: z.boolean() }),
    reply: OK,
    handle({ lessons }, { params, body, note }) {
      note({ detail: body.isOpen ? 'open' : 'closed' })
      return done(lessons.desk.openJoining(params.lesson, body.isOpen))
    },
  }),
  post('teach', '/api/lessons/:lesson/code', {
    summary: 'Make a new code; the one before opens nothing any more',
    action: 'change the code',
    body: NOTHING,
    reply: OK,
    handle: ({ lessons }, { params }) => done(lessons.desk.renewCode(params.lesson)),
  }),
  post('teach', '/api/lessons/:lesson/records/:record/unstrike', {
    summary: 'Take back that a group struck a record out',
    action: 'take a strike back',
    body: NOTHING,
    reply: OK,
    handle: ({ lessons }, { params }) => done(lessons.desk.unstrike(params.lesson, params.record)),
  }),
  post('teach', '/api/lessons/:lesson/end', {
    summary: 'End a lesson',
    action: 'end a lesson',
    body: NOTHING,
    reply: OK,
    handle: ({ lessons }, { params }) => done(lessons.desk.end(params.lesson)),
  }),
]
