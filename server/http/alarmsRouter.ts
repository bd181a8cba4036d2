import { type Request, Router } from 'express'
import { z } from 'zod'
import type { Action } from '../alarms/alarm.ts'
import { alarmPerformance } from '../alarms/performance.ts'
import type { AlarmView } from '../wire/alarm.ts'
import type { JournalReply } from '../wire/replies.ts'
import { noteForAudit } from './auditTrail.ts'
import type { HttpContext } from './context.ts'
import { HttpFault, readInput } from './errors.ts'
import { plantOf } from './plantsRouter.ts'
import { whoOf } from './who.ts'

const answer = z.strictObject({ note: z.string().max(500).optional() })
/** Taking an alarm off the list needs a reason that others can read. */
const withholding = z.strictObject({ note: z.string().trim().min(3).max(500) })
const shelving = withholding.extend({ minutes: z.number().positive().max(1440) })
const page = z.object({
  limit: z.coerce.number().int().min(1).max(1000).default(100),
  before: z.coerce.number().int().positive().optional(),
})
const DAY_MS = 86_400_000
const span = z.object({
  from: z.coerce.number().int().nonnegative().optional(),
  to: z.coerce.number().int().nonnegative().optional(),
})
/** The report looks back this far for what was standing when its span began. */
const LOOK_BACK_MS = 7 * DAY_MS
const MOST_ENTRIES = 100_000

/** What each action is called in addresses, and what it needs. */
const ACTIONS = {
  acknowledge: { event: 'acknowledge', body: answer },
  reset: { event: 'reset', body: answer },
  unshelve: { event: 'unshelve', body: answer },
  outOfService: { event: 'takeOut', body: withholding },
  putBack: { event: 'putBack', body: withholding },
} as const

/** Alarms of a plant, what people do with them, the journal and the report. */
export function alarmsRouter(context: HttpContext): Router {
  const router = Router()
  router.get('/plants/:plant/alarms', (request, response) => {
    response.json(plantOf(context, request).board.views())
  })
  for (const [word, { event, body }] of Object.entries(ACTIONS)) {
    router.post(`/plants/:plant/alarms/:alarm/${word}`, (request, response) => {
      const input = readInput(body, request.body ?? {}, 'body')
      if (input.note !== undefined) noteForAudit(response, { detail: input.note })
      response.json(act(context, request, { action: { event }, input }))
    })
  }
  router.post('/plants/:plant/alarms/:alarm/shelve', (request, response) => {
    const input = readInput(shelving, request.body ?? {}, 'body')
    noteForAudit(response, { detail: `${input.minutes} min: ${input.note}` })
    const alarm = alarmOf(context, request)
    const ms = input.minutes * 60_000
    if (alarm.longestShelfMs === 0)
      throw new HttpFault(409, {
        error: `"${alarm.name}" cannot be shelved. A maintainer may take it out of service.`,
      })
    if (ms > alarm.longestShelfMs)
      throw new HttpFault(409, {
        error: `"${alarm.name}" can be shelved for ${alarm.longestShelfMs / 60_000} min at most.`,
      })
    response.json(act(context, request, { action: { event: 'shelve', until: context.now() + ms }, input }))
  })
  router.get('/plants/:plant/journal', (request, response) => {
    const live = plantOf(context, request)
    const { limit, before } = readInput(page, request.query, 'query')
    const reply: JournalReply = {
      entries: context.journal.newest(live.plant.id, { limit, ...(before === undefined ? {} : { before }) }),
    }
    response.json(reply)
  })
  router.get('/plants/:plant/reports/alarms', (request, response) => {
    response.json(report(context, request))
  })
  return router
}

/** @throws {HttpFault} 404 */
function alarmOf(context: HttpContext, request: Request): AlarmView {
  const id = String(request.params['alarm'])
  const view = plantOf(context, request)
    .board.views()
    .find((one) => one.id === id)
  if (!view) throw new HttpFault(404, { error: `This plant has no alarm "${id.slice(0, 64)}".` })
  return view
}

interface Wish {
  action: Action
  input: { name?: string | undefined; note?: string | undefined }
}

function act(context: HttpContext, request: Request, { action, input }: Wish): AlarmView {
  const alarm = alarmOf(context, request)
  const who = whoOf(context, request, input.note)
  return plantOf(context, request).board.act(alarm.id, action, who) ?? alarm
}

function report(context: HttpContext, request: Request) {
  const live = plantOf(context, request)
  const input = readInput(span, request.query, 'query')
  const to = input.to ?? context.now()
  const from = input.from ?? to - 30 * DAY_MS
  if (from >= to) throw new HttpFault(400, { error: `"from" (${from}) must be before "to" (${to}).` })
  const entries = context.journal.between(live.plant.id, {
    from: from - LOOK_BACK_MS,
    to,
    limit: MOST_ENTRIES,
  })
  if (entries.length === MOST_ENTRIES)
    throw new HttpFault(400, {
      error: `There are more than ${MOST_ENTRIES} journal entries: ask for a shorter span.`,
    })
  return alarmPerformance(entries, { from, to })
}
