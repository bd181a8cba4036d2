import { z } from 'zod'
import type { Action } from '../alarms/alarm.ts'
import { alarmPerformance } from '../alarms/performance.ts'
import { alarmWithRoles } from '../push/withRoles.ts'
import type { JournalEntry } from '../wire/alarm.ts'
import {
  type AlarmPerformance,
  type AlarmView,
  alarmView,
  episodeView,
  journalReply,
  performanceReply,
} from '../wire/alarmReplies.ts'
import { episodesOf } from '../wire/episode.ts'
import { actedBy } from './context.ts'
import { knowsPeople, namesFor, withRoles } from './discretion.ts'
import { given, HttpFault } from './errors.ts'
import { plantOf } from './plantsRoutes.ts'
import { type Asked, get, page, post, type RouteContext } from './route.ts'
import { inTurn } from './turns.ts'

const remark = z.strictObject({ note: z.string().max(500).exactOptional() })
/** Taking an alarm off the list needs a reason that others can read. */
const withholding = z.strictObject({ note: z.string().trim().min(3).max(500) })
const shelving = withholding.extend({ minutes: z.number().positive().max(1440) })
const DAY_MS = 86_400_000
const moment = z.coerce.number().int().nonnegative().exactOptional()
const span = z.object({
  from: moment.describe('Start; default 30 days before the end'),
  to: moment.describe('End, exclusive; default now'),
})
/** The report looks back this far for what was standing when its span began. */
const LOOK_BACK_MS = 7 * DAY_MS
/** Three entries of each of 300 alarms a day, the most that IEC 62682 (from memory) calls manageable, over 37 days. */
const MOST_ENTRIES = 40_000
/** Read at one go; between them whatever else is due has its turn. */
const ENTRIES_A_PIECE = 1000

/** Alarms of a plant, what people do with them, the journal and the report. */
export const alarmsRoutes = [
  get('read', '/api/plants/:plant/alarms', {
    summary: 'All alarms with their states',
    reply: z.array(alarmView),
    handle(context, { params, request }) {
      const alarms = plantOf(context, params.plant).alarms()
      const roleOf = namesFor(context.access, request)
      return roleOf ? alarms.map((alarm) => alarmWithRoles(alarm, roleOf)) : alarms
    },
  }),
  post('acknowledge', '/api/plants/:plant/alarms/:alarm/acknowledge', {
    summary: 'Acknowledge; repeating it changes nothing',
    body: remark,
    reply: alarmView,
    handle: deed('acknowledge'),
  }),
  get('read', '/api/plants/:plant/episodes', {
    summary:
      'Events of which something stands: what came first, and all that followed from it; the gravest first',
    reply: z.array(episodeView),
    handle: (context, { params }) => episodesOf(plantOf(context, params.plant).alarms()),
  }),
  post('acknowledge', '/api/plants/:plant/episodes/:episode/acknowledge', {
    summary:
      'Acknowledge each alarm of an event that was raised up to `raisedAt`; repeating it changes nothing',
    body: remark.extend({ raisedAt: z.number().describe('The `raisedAt` of the event as it was shown') }),
    reply: z.array(alarmView),
    handle: acknowledgeAll,
  }),
  post('reset', '/api/plants/:plant/alarms/:alarm/reset', {
    summary: 'Reset a latched alarm after it was acknowledged',
    body: remark,
    reply: alarmView,
    handle: deed('reset'),
  }),
  post('shelve', '/api/plants/:plant/alarms/:alarm/shelve', {
    summary: 'Take an alarm off the list for a time; the reason is a note of at least 3 characters',
    body: shelving,
    reply: alarmView,
    handle: shelve,
  }),
  post('shelve', '/api/plants/:plant/alarms/:alarm/unshelve', {
    summary: 'Put a shelved alarm back on the list',
    action: 'unshelve',
    body: remark,
    reply: alarmView,
    handle: deed('unshelve'),
  }),
  post('withhold', '/api/plants/:plant/alarms/:alarm/outOfService', {
    summary: 'Take an alarm out of service until it is put back',
    action: 'take out of service',
    body: withholding,
    reply: alarmView,
    handle: deed('takeOut'),
  }),
  post('withhold', '/api/plants/:plant/alarms/:alarm/putBack', {
    summary: 'Put an alarm back into service',
    action: 'put back',
    body: withholding,
    reply: alarmView,
    handle: deed('putBack'),
  }),
  get('read', '/api/plants/:plant/journal', {
    summary: 'Alarm journal, newest first',
    query: page,
    reply: journalReply,
    handle(context, { params, query, request }) {
      const entries = context.journal.newest(plantOf(context, params.plant).plant.id, query)
      const { access } = context
      return { entries: knowsPeople(access, request) ? entries : withRoles(entries, access) }
    },
  }),
  get('read', '/api/plants/:plant/reports/alarms', {
    summary: 'How the alarms did, by the measures of IEC 62682',
    query: span,
    reply: performanceReply,
    handle: (context, { params, query, request }) =>
      inTurn(context, request, () => report(context, params.plant, query)),
  }),
]

type OfAlarm<Body> = Asked<{ plant: string; alarm: string }, unknown, Body>

/** @throws {HttpFault} 404 */
function alarmOf(context: RouteContext, { plant, alarm: id }: OfAlarm<unknown>['params']): AlarmView {
  const view = plantOf(context, plant)
    .alarms()
    .find((one) => one.id === id)
  if (!view) throw new HttpFault(404, { error: `This plant has no alarm "${id.slice(0, 64)}".` })
  return view
}

/** What people do with an alarm and nothing but a note. */
function deed(event: 'acknowledge' | 'reset' | 'unshelve' | 'takeOut' | 'putBack') {
  return (context: RouteContext, asked: OfAlarm<{ note?: string }>): Promise<AlarmView> => {
    if (asked.body.note !== undefined) asked.note({ detail: asked.body.note })
    return act(context, asked, { event })
  }
}

async function act(
  context: RouteContext,
  { params, body, request }: OfAlarm<{ note?: string }>,
  action: Action,
): Promise<AlarmView> {
  const { id: alarm } = alarmOf(context, params)
  const who = actedBy(context, request, body.note)
  return given(await context.ask('act', { plant: params.plant, alarm, action, actedBy: who }))
}

type OfEpisode = Asked<{ plant: string; episode: string }, unknown, { note?: string; raisedAt: number }>

async function acknowledgeAll(
  context: RouteContext,
  { params, body, request, note }: OfEpisode,
): Promise<AlarmView[]> {
  if (body.note !== undefined) note({ detail: body.note })
  const { plant } = plantOf(context, params.plant)
  const who = actedBy(context, request, body.note)
  const asked = { plant: plant.id, episode: params.episode, seenRaisedAt: body.raisedAt, actedBy: who }
  return given(await context.ask('acknowledgeEpisode', asked))
}

async function shelve(context: RouteContext, asked: OfAlarm<z.output<typeof shelving>>): Promise<AlarmView> {
  const { minutes, note } = asked.body
  asked.note({ detail: `${minutes} min: ${note}` })
  const alarm = alarmOf(context, asked.params)
  const ms = minutes * 60_000
  if (alarm.longestShelfMs === 0)
    throw new HttpFault(409, {
      error: `"${alarm.name}" cannot be shelved. A maintainer may take it out of service.`,
    })
  if (ms > alarm.longestShelfMs)
    throw new HttpFault(409, {
      error: `"${alarm.name}" can be shelved for ${alarm.longestShelfMs / 60_000} min at most.`,
    })
  return act(context, asked, { event: 'shelve', until: context.now() + ms })
}

async function report(
  context: RouteContext,
  plant: string,
  asked: z.output<typeof span>,
): Promise<AlarmPerformance> {
  const live = plantOf(context, plant)
  const to = asked.to ?? context.now()
  const from = asked.from ?? to - 30 * DAY_MS
  if (from >= to) throw new HttpFault(400, { error: `"from" (${from}) must be before "to" (${to}).` })
  const entries = await readEntries(context, live.plant.id, { from: from - LOOK_BACK_MS, to })
  return alarmPerformance(entries, { from, to })
}

/** @throws {HttpFault} 400 where there are too many. */
async function readEntries(
  { journal }: RouteContext,
  plant: string,
  span: { from: number; to: number },
): Promise<JournalEntry[]> {
  const entries: JournalEntry[] = []
  for (;;) {
    const after = entries.at(-1)
    const piece = journal.between(plant, { ...span, limit: ENTRIES_A_PIECE, ...(after ? { after } : {}) })
    entries.push(...piece)
    if (entries.length > MOST_ENTRIES)
      throw new HttpFault(400, {
        error: `There are more than ${MOST_ENTRIES} journal entries: ask for a shorter span.`,
      })
    if (piece.length < ENTRIES_A_PIECE) return entries
    await new Promise(setImmediate)
  }
}
