import { afterEach, beforeEach, describe, expect, it } from 'vitest'
import { PROOF_MS } from '../../../server/access/sessions.ts'
import { ROUTES } from '../../../server/http/routes.ts'
import type { AuditReply, UserView } from '../../../server/wire/access.ts'
import { BENCH_PASSWORD } from '../../support/accessBench.ts'
import { type HttpBench, httpBench } from '../../support/httpBench.ts'

const NEW_USER = { name: 'Ben', role: 'viewer' }

/** Change who gets in, and yet need no password: they only take sessions away. */
const FREE = ['DELETE /api/session', 'DELETE /api/sessions', 'DELETE /api/sessions/:session']

describe('the password once more', () => {
  let http: HttpBench
  let token: string
  beforeEach(async () => {
    http = await httpBench()
    token = await http.person('First', 'administrator')
  })
  afterEach(() => http.close())

  const add = () => http.ask('POST', '/api/users', { token, body: NEW_USER })
  const prove = (password: string) => http.ask('POST', '/api/session/proof', { token, body: { password } })
  const names = async () =>
    ((await (await http.ask('GET', '/api/users', { token })).json()) as UserView[]).map(({ name }) => name)

  it('is asked for by the row of every route that changes people, passwords or how somebody gets in', () => {
    const rows = ROUTES.filter(
      ({ method, right }) => method !== 'get' && (right === 'users' || right === 'account'),
    )
    const without = rows.filter(({ proof }) => proof === undefined)
    expect(without.map(({ method, path }) => `${method.toUpperCase()} ${path}`).sort()).toEqual(FREE.sort())
  })

  it('is not asked for ten minutes after signing in, then is, and nothing is done until it was shown', async () => {
    http.headrace.clock.advance(PROOF_MS)
    expect((await add()).status).toBe(200)
    http.headrace.clock.advance(1)
    const id = http.headrace.pageSide.access.administer.list().find(({ name }) => name === 'Ben')!.id
    const refused = await http.ask('DELETE', `/api/users/${id}`, { token })
    expect(refused.status).toBe(401)
    expect(await refused.json()).toEqual({
      error: 'Show your password once more for this.',
      needs: 'proof',
    })
    expect(await names()).toContain('Ben')
    expect((await prove(BENCH_PASSWORD)).status).toBe(200)
    expect((await http.ask('DELETE', `/api/users/${id}`, { token })).status).toBe(200)
  })

  it('counts in the session that showed it and in no other of the same person', async () => {
    http.headrace.clock.advance(PROOF_MS + 1)
    const signed = await http.ask('POST', '/api/session', {
      body: { name: 'First', password: BENCH_PASSWORD },
    })
    expect(signed.status).toBe(200)
    expect((await add()).status).toBe(401)
  })

  it('is asked for again after a restart of the server', async () => {
    await http.headrace.restart()
    expect(await (await add()).json()).toMatchObject({ needs: 'proof' })
  })

  it('is asked for before the body is looked at, and only of those who have the right', async () => {
    const viewer = await http.person('Vi', 'viewer')
    http.headrace.clock.advance(PROOF_MS + 1)
    const junk = { body: { hello: 1 } }
    expect(await (await http.ask('POST', '/api/users', { token, ...junk })).json()).toMatchObject({
      needs: 'proof',
    })
    expect((await http.ask('POST', '/api/users', { token: viewer, ...junk })).status).toBe(403)
  })

  it('slows down whoever guesses at it, as a sign-in does and together with it', async () => {
    http.headrace.clock.advance(PROOF_MS + 1)
    for (let i = 0; i < 4; i++) expect((await prove(`guess ${i}`)).status).toBe(401)
    const slowed = await prove(BENCH_PASSWORD)
    expect(slowed.status).toBe(429)
    expect(slowed.headers.get('retry-after')).toBe('1')
    const body = { name: 'First', password: BENCH_PASSWORD }
    expect((await http.ask('POST', '/api/session', { body })).status).toBe(429)
    http.headrace.clock.advance(1000)
    expect((await prove(BENCH_PASSWORD)).status).toBe(200)
  })

  it('stands in the audit, right and wrong, without what was typed', async () => {
    await prove('hunter2 hunter2')
    await prove(BENCH_PASSWORD)
    const reply = await http.ask('GET', '/api/audit', { token })
    const text = await reply.text()
    expect((JSON.parse(text) as AuditReply).entries.slice(0, 2)).toMatchObject([
      { who: 'First', action: 'show password', outcome: 'done' },
      { who: 'First', action: 'show password', outcome: 'refused' },
    ])
    expect(text).not.toContain('hunter2')
  })
})
