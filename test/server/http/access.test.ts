import { afterEach, beforeEach, describe, expect, it } from 'vitest'
import type { AuditReply, SessionReply, UserCodeReply, UserView } from '../../../server/wire/access.ts'
import { BENCH_PASSWORD } from '../../support/accessBench.ts'
import { type AskOptions, type HttpBench, httpBench } from '../../support/httpBench.ts'
import { START } from '../../support/manualClock.ts'

const password = 'turn the water on'

describe('signing in over HTTP', () => {
  let http: HttpBench
  let first: string
  beforeEach(async () => {
    http = await httpBench()
    first = await http.person('First', 'administrator')
  })
  afterEach(() => http.close())

  const json = async <T>(method: string, path: string, options?: AskOptions) =>
    (await (await http.ask(method, path, options)).json()) as T
  const enter = (body: object, headers: Record<string, string> = {}) =>
    http.ask('POST', '/api/session', { body, headers })
  const tokenOf = (response: Response) =>
    /headrace=([^;]+)/.exec(response.headers.get('set-cookie') ?? '')?.[1]
  const audit = async () => (await json<AuditReply>('GET', '/api/audit', { token: first })).entries

  it('gives a cookie that no script can read and no other site can send', async () => {
    const response = await enter({ name: 'First', password: BENCH_PASSWORD })
    expect(await response.json()).toEqual({ name: 'First', role: 'administrator' })
    expect(response.headers.getSetCookie()[0]).toMatch(
      /^headrace=[\w-]{43}; Path=\/; HttpOnly; SameSite=Strict; Max-Age=604800$/,
    )
    const session = await json<SessionReply>('GET', '/api/session', { token: tokenOf(response) })
    expect(session).toMatchObject({ name: 'First', role: 'administrator', hasUsers: true })
    expect(session.actions).toContain('users')
  })

  it('binds the cookie to HTTPS where the page comes by it', async () => {
    const response = await enter(
      { name: 'First', password: BENCH_PASSWORD },
      { 'x-forwarded-proto': 'https', 'x-forwarded-for': '192.0.2.5' },
    )
    expect(response.headers.getSetCookie()[0]).toMatch(/^__Host-headrace=.*; Secure$/)
    const cookie = response.headers.get('set-cookie')!.split(';')[0]!
    const session = await json<SessionReply>('GET', '/api/session', { headers: { cookie } })
    expect(session.name).toBe('First')
  })

  it('takes no plain cookie where the page comes by HTTPS: another site of the domain may have set it', async () => {
    const cookie = `headrace=${first}`
    const over = { cookie, 'x-forwarded-proto': 'https', 'x-forwarded-for': '192.0.2.5' }
    const plain = { cookie, 'x-forwarded-for': '192.0.2.5' }
    expect((await json<SessionReply>('GET', '/api/session', { headers: over })).name).toBeNull()
    expect((await json<SessionReply>('GET', '/api/session', { headers: plain })).name).toBe('First')
  })

  it('knows a browser again after signing out: guesses at the name do not keep it out', async () => {
    const before = await enter({ name: 'First', password: BENCH_PASSWORD })
    const kept = before.headers.getSetCookie().find((line) => line.startsWith('headrace-known='))!
    expect(kept).toMatch(/^headrace-known=[\w-]{43}; Path=\/; HttpOnly; SameSite=Strict; Max-Age=34560000$/)
    const out = await http.ask('DELETE', '/api/session', { token: tokenOf(before) })
    expect(out.headers.getSetCookie().join()).not.toContain('headrace-known')
    for (let i = 0; i < 6; i++) await enter({ name: 'First', password: 'wrong' })
    const right = { name: 'First', password: BENCH_PASSWORD }
    expect((await enter(right)).status).toBe(429)
    expect((await enter(right, { cookie: kept.split(';')[0]! })).status).toBe(200)
  })

  it('ends the session that the browser had before', async () => {
    const old = tokenOf(await enter({ name: 'First', password: BENCH_PASSWORD }))
    await http.ask('POST', '/api/session', { token: old, body: { name: 'First', password: BENCH_PASSWORD } })
    expect((await json<SessionReply>('GET', '/api/session', { token: old })).name).toBeNull()
  })

  it('signs out here alone or everywhere, and takes the cookie away', async () => {
    const [a, b] = [
      tokenOf(await enter({ name: 'First', password: BENCH_PASSWORD })),
      tokenOf(await enter({ name: 'First', password: BENCH_PASSWORD })),
    ]
    const nameOf = async (token: string | undefined) =>
      (await json<SessionReply>('GET', '/api/session', { token })).name
    const out = await http.ask('DELETE', '/api/session', { token: a })
    expect(out.headers.get('set-cookie')).toMatch(/^headrace=; .*Max-Age=0/)
    expect([await nameOf(a), await nameOf(b)]).toEqual([null, 'First'])
    await http.ask('DELETE', '/api/session?everywhere=true', { token: b })
    expect([await nameOf(b), await nameOf(first)]).toEqual([null, null])
  })

  it('says when to come back after failures', async () => {
    for (let i = 0; i < 4; i++) await enter({ name: 'First', password: 'wrong' })
    const response = await enter({ name: 'First', password: BENCH_PASSWORD })
    expect(response.status).toBe(429)
    expect(response.headers.get('retry-after')).toBe('1')
    expect(await response.json()).toEqual({ error: 'Too many failed attempts. Try again in 1 s.' })
  })

  it('never repeats what was typed as a password', async () => {
    const code = http.headrace.pageSide.access.administer.add('Ada', 'viewer')
    const body = { name: 'Ada', code: code.ok ? code.value.code : '', password: 'hunter2' }
    const text = await (await http.ask('POST', '/api/password', { body })).text()
    expect(text).toContain('at least 12 characters')
    expect(text).not.toContain('hunter2')
  })

  it.each([
    ['/api/session', { name: 'First', password, passwort: 'hunter2' }],
    ['/api/session', { name: 'First', hunter2: password }],
    ['/api/session', ['hunter2']],
    ['/api/session', { name: 'hunter2\u0000', password }],
    ['/api/setup', { name: 'First', code: { a: 'hunter2' }, password }],
    ['/api/password', { name: 'First', code: 7, password: ['hunter2'] }],
    ['/api/seat', { code: ['hunter2'], group: 'A', more: 'hunter2' }],
    ['/api/session', '{"name":"First","password":"hunter2'],
    ['/api/session', 'hunter2'],
  ])('repeats in its refusal at %s nothing of a body that may hold a secret', async (path, body) => {
    const text = typeof body === 'string' ? body : JSON.stringify(body)
    const response = await fetch(http.headrace.url + path, {
      method: 'POST',
      headers: { 'content-type': 'application/json' },
      body: text,
    })
    expect(response.status).toBe(400)
    expect(await response.text()).not.toContain('hunter')
  })

  it.each([
    [{ name: '', password }],
    [{ name: 'a\u0000b', password }],
    [{ name: 'x'.repeat(41), password }],
    [{ name: '<b>', password }],
    [{ name: 7, password }],
    [{ name: 'Ada' }],
    [{ name: 'Ada', password, role: 'administrator' }],
    [[]],
  ])('refuses the body %j with every fault', async (body) => {
    const response = await enter(body)
    expect(response.status).toBe(400)
    expect(await response.json()).toMatchObject({ faults: expect.any(Array) })
  })

  it('lets an administrator add a user, who sets a password with the code and acts under their own name', async () => {
    const body = { name: 'Ada', role: 'operator' }
    const { user, code } = await json<UserCodeReply>('POST', '/api/users', { token: first, body })
    expect(user).toMatchObject({ name: 'Ada', hasPassword: false, codeUntil: START + 72 * 3_600_000 })
    const signed = await http.ask('POST', '/api/password', { body: { name: 'ada', code, password } })
    const view = await json('POST', '/api/plants/mill/alarms/low/acknowledge', {
      token: tokenOf(signed),
      body: { note: 'seen' },
    })
    expect(view).toMatchObject({ id: 'low' })
    expect((await audit())[0]).toMatchObject({
      who: 'Ada',
      role: 'operator',
      action: 'acknowledge',
      outcome: 'done',
      target: 'plants/mill/alarms/low',
      detail: 'seen',
      address: '127.0.0.1',
    })
  })

  it('records failures, refusals and what administrators do, with names and without secrets', async () => {
    const viewer = await http.person('Vi', 'viewer')
    await enter({ name: 'Mallory', password: 'a secret word' })
    await http.ask('POST', '/api/plants/mill/alarms/low/reset', { token: viewer, body: {} })
    await http.ask('GET', '/api/users', { token: viewer })
    await http.ask('POST', '/api/plants/mill/alarms/low/reset', { body: {} })
    const { id } = (await json<UserView[]>('GET', '/api/users', { token: first })).find(
      (one) => one.name === 'Vi',
    )!
    await http.ask('PATCH', `/api/users/${id}`, { token: first, body: { role: 'student' } })
    const { code } = await json<UserCodeReply>('POST', `/api/users/${id}/code`, { token: first, body: {} })
    await http.ask('DELETE', `/api/users/${id}`, { token: first })
    await http.ask('DELETE', '/api/users/1', { token: first })
    const entries = (await audit()).map(({ who, action, target, detail, outcome }) => [
      who,
      action,
      target,
      detail,
      outcome,
    ])
    const alarm = 'plants/mill/alarms/low'
    expect(entries).toEqual([
      ['First', 'remove user', 'First', null, 'failed'],
      ['First', 'remove user', 'Vi', null, 'done'],
      ['First', 'reset password', 'Vi', null, 'done'],
      ['First', 'change role', 'Vi', 'to student', 'done'],
      [null, 'reset', alarm, null, 'refused'],
      ['Vi', 'users', 'users', null, 'refused'],
      ['Vi', 'reset', alarm, null, 'refused'],
      ['Mallory', 'sign in', '', null, 'refused'],
    ])
    const text = JSON.stringify(http.headrace.people.database.prepare('SELECT * FROM audit').all())
    expect(text).not.toContain('secret word')
    expect(text).not.toContain(code)
  })

  it('records a deed also when nobody waits for the answer any more', async () => {
    const abort = new AbortController()
    const wish = fetch(`${http.headrace.url}/api/session`, {
      method: 'POST',
      signal: abort.signal,
      headers: { 'content-type': 'application/json' },
      body: JSON.stringify({ name: 'First', password: BENCH_PASSWORD }),
    }).catch(() => undefined)
    const { access } = http.headrace.pageSide
    const real = access.signIn.withPassword
    const reached = new Promise<void>((resolve) => {
      access.signIn.withPassword = async (given) => {
        abort.abort()
        await wish
        const outcome = await real(given)
        setImmediate(() => setImmediate(resolve))
        return outcome
      }
    })
    await reached
    expect((await audit())[0]).toMatchObject({ who: 'First', action: 'sign in', outcome: 'done' })
  })

  it('pages through the audit', async () => {
    for (let i = 0; i < 3; i++) await enter({ name: `N${i}`, password: 'wrong' })
    const page = await json<AuditReply>('GET', '/api/audit?limit=2', { token: first })
    expect(page.entries.map((one) => one.who)).toEqual(['N2', 'N1'])
    const next = await json<AuditReply>('GET', `/api/audit?before=${page.entries[1]!.sequence}`, {
      token: first,
    })
    expect(next.entries.map((one) => one.who)).toEqual(['N0'])
  })
})
