import fc from 'fast-check'
import { afterAll, beforeAll, describe, expect, it } from 'vitest'
import { ROUTES } from '../../../server/http/routes.ts'
import type { Role } from '../../../server/wire/access.ts'
import { ROLES } from '../../../server/wire/rights.ts'
import { BENCH_PLACE } from '../../support/accessBench.ts'
import { type HttpBench, httpBench } from '../../support/httpBench.ts'
import { registeredRoutes } from '../../support/registeredRoutes.ts'

/** Besides the roles: somebody not signed in, at the server's machine and elsewhere. */
type Who = Role | 'stranger here' | 'stranger elsewhere'
const WHO: readonly Who[] = [...ROLES, 'stranger here', 'stranger elsewhere']

const ROLE_READS: readonly Who[] = [...ROLES, 'stranger here']
const PLAYS: readonly Who[] = ['student', 'operator', 'maintainer', 'administrator']
const OPERATES: readonly Who[] = ['operator', 'maintainer', 'administrator']
const MAINTAINS: readonly Who[] = ['maintainer', 'administrator']
const ADMINISTERS: readonly Who[] = ['administrator']

/**
 * What was asked for, route by route, written down apart from the rows: a right that is changed by mistake shows
 * here. A new route needs its line.
 */
const ASKED_FOR: Record<string, readonly Who[]> = {
  'GET /metrics': ROLE_READS,
  'GET /api/health': ROLE_READS,
  // anybody on this machine; elsewhere the right to read: test/server/http/probe.test.ts
  'GET /api/health/probe': ROLE_READS,
  'GET /api/openapi.json': WHO,
  'GET /api/plants': ROLE_READS,
  'GET /api/plants/:plant/live': ROLE_READS,
  'GET /api/plants/:plant/counters': ROLE_READS,
  'GET /api/plants/:plant/counters/:counter/days': ROLE_READS,
  'GET /api/plants/:plant/indices': ROLE_READS,
  'GET /api/plants/:plant/agreement': ROLE_READS,
  'GET /api/plants/:plant/figures/:figure/explain': ROLE_READS,
  'GET /api/plants/:plant/history': ROLE_READS,
  'GET /api/plants/:plant/alarms': ROLE_READS,
  'POST /api/plants/:plant/alarms/:alarm/acknowledge': OPERATES,
  'GET /api/plants/:plant/episodes': ROLE_READS,
  'POST /api/plants/:plant/episodes/:episode/acknowledge': OPERATES,
  'POST /api/plants/:plant/alarms/:alarm/reset': OPERATES,
  'POST /api/plants/:plant/alarms/:alarm/shelve': OPERATES,
  'POST /api/plants/:plant/alarms/:alarm/unshelve': OPERATES,
  'POST /api/plants/:plant/alarms/:alarm/outOfService': MAINTAINS,
  'POST /api/plants/:plant/alarms/:alarm/putBack': MAINTAINS,
  'GET /api/plants/:plant/reports/alarms': ROLE_READS,
  'GET /api/plants/:plant/events': ROLE_READS,
  'GET /api/plants/:plant/events/:event': ROLE_READS,
  'GET /api/plants/:plant/events/:event/csv': ROLE_READS,
  'GET /api/plants/:plant/journal': ROLE_READS,
  'POST /api/plants/:plant/simulator/:control': PLAYS,
  'GET /api/plants/:plant/trials': ROLE_READS,
  'GET /api/plants/:plant/runs': ROLE_READS,
  'POST /api/plants/:plant/runs': PLAYS,
  'GET /api/plants/:plant/runs/:run': ROLE_READS,
  'GET /api/plants/:plant/runs/:run/pack': ROLE_READS,
  'GET /api/plants/:plant/runs/:run/record': ROLE_READS,
  'POST /api/plants/:plant/runs/:run/points': PLAYS,
  'POST /api/plants/:plant/runs/:run/points/:point': PLAYS,
  'POST /api/plants/:plant/runs/:run/repeat': PLAYS,
  'POST /api/plants/:plant/runs/:run/arm': PLAYS,
  'GET /api/plants/:plant/runs/:run/traces/:trace': ROLE_READS,
  'POST /api/plants/:plant/runs/:run/traces/:trace': PLAYS,
  'GET /api/plants/:plant/runs/:run/notes': ROLE_READS,
  'POST /api/plants/:plant/runs/:run/notes': PLAYS,
  'POST /api/plants/:plant/runs/:run/finish': PLAYS,
  'GET /api/plants/:plant/replays': ROLE_READS,
  'POST /api/plants/:plant/replays': OPERATES,
  'GET /api/replays/:replay': ROLE_READS,
  'POST /api/replays/:replay': OPERATES,
  'DELETE /api/replays/:replay': OPERATES,
  'GET /api/replays/:replay/history': ROLE_READS,
  'GET /api/replays/:replay/figures/:figure/explain': ROLE_READS,
  'GET /api/plants/:plant/lessons': OPERATES,
  'POST /api/plants/:plant/lessons': OPERATES,
  'GET /api/lessons/:lesson': OPERATES,
  'GET /api/lessons/:lesson/pack': OPERATES,
  'GET /api/lessons/:lesson/figures/:figure/explain': OPERATES,
  'POST /api/lessons/:lesson/arrange': OPERATES,
  'POST /api/lessons/:lesson/freeze': OPERATES,
  'POST /api/lessons/:lesson/questions': OPERATES,
  'POST /api/lessons/:lesson/questions/:question/close': OPERATES,
  'POST /api/lessons/:lesson/questions/:question/reveal': OPERATES,
  'POST /api/lessons/:lesson/joining': OPERATES,
  'POST /api/lessons/:lesson/code': OPERATES,
  'POST /api/lessons/:lesson/records/:record/unstrike': OPERATES,
  'PATCH /api/lessons/:lesson/groups/:group': OPERATES,
  'DELETE /api/lessons/:lesson/groups/:group': OPERATES,
  'POST /api/lessons/:lesson/end': OPERATES,
  'POST /api/seat': WHO,
  // a seat is no role: test/server/lessons/seatRights.test.ts
  'DELETE /api/seat': [],
  'GET /api/seat': [],
  'GET /api/seat/live': [],
  'GET /api/seat/pack': [],
  'GET /api/seat/figures/:figure/explain': [],
  'POST /api/seat/records': [],
  'POST /api/seat/records/:record/remark': [],
  'POST /api/seat/records/:record/strike': [],
  'POST /api/seat/predictions': [],
  'GET /api/notifications': ROLE_READS,
  'POST /api/notifications/test': MAINTAINS,
  'POST /api/notifications/channels/:channel/enable': MAINTAINS,
  'POST /api/notifications/browsers': MAINTAINS,
  'GET /api/session': WHO,
  'POST /api/session': WHO,
  'DELETE /api/session': ROLES,
  'POST /api/session/password': ROLES,
  'POST /api/session/proof': ROLES,
  'POST /api/session/secondFactor': ROLES,
  'POST /api/session/secondFactor/confirm': ROLES,
  'POST /api/session/secondFactor/recoveryCodes': ROLES,
  'DELETE /api/session/secondFactor': ROLES,
  'GET /api/sessions': ROLES,
  'DELETE /api/sessions': ROLES,
  'DELETE /api/sessions/:session': ROLES,
  'POST /api/setup': WHO,
  'POST /api/password': WHO,
  'GET /api/users': ADMINISTERS,
  'POST /api/users': ADMINISTERS,
  'PATCH /api/users/:user': ADMINISTERS,
  'DELETE /api/users/:user': ADMINISTERS,
  'POST /api/users/:user/code': ADMINISTERS,
  'DELETE /api/users/:user/secondFactor': ADMINISTERS,
  'GET /api/audit': ADMINISTERS,
}

const ELSEWHERE = { 'x-forwarded-for': '192.0.2.9' }

function addressOf(path: string): string {
  const plant = path.includes('simulator') ? 'play' : 'mill'
  const filled = path
    .replace(':plant', plant)
    .replace(':figure', 'netHead')
    .replace(':alarm', 'low')
    .replace(':event', 'none')
    .replace(':episode', 'none')
    .replace(':run', '999')
    .replace(':replay', '999')
    .replace(':point', '1')
    .replace(':trace', '1')
    .replace(':channel', 'none')
    .replace(':counter', 'energyGenerated')
    .replace(':control', 'jet')
    .replace(':user', '999')
    .replace(':session', 'none')
    .replace(':lesson', '999')
    .replace(':question', '1')
    .replace(':group', '1')
    .replace(':record', '1')
  return path.endsWith('history') ? `${filled}?figures=netHead` : filled
}

describe('the rights of each role at each route', () => {
  let http: HttpBench
  const people = new Map<Who, number>()

  beforeAll(async () => {
    http = await httpBench()
    for (const role of ROLES) await http.person(role, role)
    for (const { id, role } of http.headrace.pageSide.access.administer.list()) people.set(role, id)
  })
  afterAll(() => http.close())

  /** Each with a session of its own: one of the routes ends it. */
  function ask(who: Who, route: string) {
    const [method, path] = route.split(' ')
    const id = people.get(who)
    return http.ask(method!, addressOf(path!), {
      token: id === undefined ? undefined : http.headrace.pageSide.access.sessions.start(id, BENCH_PLACE),
      headers: who === 'stranger here' ? {} : ELSEWHERE,
      ...(method === 'GET' || method === 'DELETE' ? {} : { body: {} }),
    })
  }

  it('are written down for every route that the application has, and for no other', async () => {
    const routes = (await registeredRoutes(http.headrace.url)).sort()
    // "/" serves the page itself, which everybody may load; a link in a message and the address on the console carry their own right.
    const isOpen = (route: string) =>
      route === 'GET /' || route.endsWith(' /acknowledge/:token') || route === 'GET /enter/:code'
    expect(routes.filter((route) => !isOpen(route))).toEqual(Object.keys(ASKED_FOR).sort())
    expect(ROUTES.map(({ method, path }) => `${method.toUpperCase()} ${path}`).sort()).toEqual(
      Object.keys(ASKED_FOR).sort(),
    )
  })

  describe.each(WHO)('as %s', (who) => {
    it.each(Object.entries(ASKED_FOR))('at %s are as asked for', async (route, allowed) => {
      const { status } = await ask(who, route)
      const isStranger = who.startsWith('stranger')
      if (allowed.includes(who)) expect([401, 403, 405]).not.toContain(status)
      else expect(status).toBe(isStranger || allowed.length === 0 ? 401 : 403)
    })
  })

  it('hold however an address is written', async () => {
    const spelling = fc.record({
      capitals: fc.array(fc.boolean(), { minLength: 60, maxLength: 60 }),
      end: fc.constantFrom('', '/', '?x=1', '/?x=1', '#x'),
      start: fc.constantFrom('', '/', '/.', '/x/..'),
    })
    const address = '/api/plants/mill/alarms/low/acknowledge'
    await fc.assert(
      fc.asyncProperty(spelling, async ({ capitals, end, start }) => {
        const written = [...address]
          .map((letter, i) => (capitals[i] ? letter.toUpperCase() : letter))
          .join('')
        const { status } = await http.ask('POST', start + written + end, { body: {} })
        expect([401, 404]).toContain(status)
      }),
      { numRuns: 60 },
    )
  })

  it('let nobody through to an address that is not in the table', async () => {
    const token = http.headrace.pageSide.access.sessions.start(people.get('administrator')!, BENCH_PLACE)
    for (const [method, path] of [
      ['GET', '/api/secret'],
      ['PUT', '/api/plants'],
      ['POST', '/metrics'],
      ['DELETE', '/api/plants/mill'],
    ])
      expect((await http.ask(method!, path!, { token })).status, `${method} ${path}`).toBe(404)
  })

  it('are needed for a write, and besides that it comes from the own page', async () => {
    const token = http.headrace.pageSide.access.sessions.start(people.get('operator')!, BENCH_PLACE)
    const path = '/api/plants/mill/alarms/low/acknowledge'
    for (const headers of [
      { origin: 'http://evil.example' },
      { origin: 'null' },
      { 'sec-fetch-site': 'cross-site' },
      { 'sec-fetch-site': 'same-site' },
    ] as Record<string, string>[]) {
      expect((await http.ask('POST', path, { token, body: {}, headers })).status).toBe(403)
      expect((await http.ask('DELETE', '/api/session', { token, headers })).status).toBe(403)
    }
    const form = { 'content-type': 'application/x-www-form-urlencoded' }
    expect((await http.ask('POST', path, { token, headers: form })).status).toBe(415)
    expect((await http.ask('POST', path, { token, body: {} })).status).toBe(200)
  })
})
