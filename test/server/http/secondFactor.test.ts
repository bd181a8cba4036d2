import { afterEach, beforeEach, describe, expect, it } from 'vitest'
import { PROOF_MS } from '../../../server/access/sessions.ts'
import type { AuditReply, RecoveryCodesReply, SecondFactorKey } from '../../../server/wire/access.ts'
import { BENCH_PASSWORD } from '../../support/accessBench.ts'
import { expectDescribed } from '../../support/describedReplies.ts'
import { type HttpBench, httpBench } from '../../support/httpBench.ts'
import { codeOfApp } from '../../support/totp.ts'

const FACTOR = '/api/session/secondFactor'

describe('the second factor over HTTP', () => {
  let http: HttpBench
  let first: string
  let ada: string
  beforeEach(async () => {
    http = await httpBench()
    first = await http.person('First', 'administrator')
    ada = await http.person('Ada', 'operator')
  })
  afterEach(() => http.close())

  async function ask<T>(method: string, path: string, token: string, body?: object): Promise<T> {
    const response = await http.ask(method, path, { token, ...(body ? { body } : {}) })
    expect(response.status, path).toBe(200)
    const reply = (await response.json()) as T
    expectDescribed(method, path, reply)
    return reply
  }
  const codeOf = (key: string) => codeOfApp(key, http.headrace.clock.now())
  const enter = (secondFactor?: string) =>
    http.ask('POST', '/api/session', { body: { name: 'Ada', password: BENCH_PASSWORD, secondFactor } })

  async function turnOn(): Promise<SecondFactorKey & RecoveryCodesReply> {
    const made = await ask<SecondFactorKey>('POST', FACTOR, ada, {})
    const body = { code: codeOf(made.key) }
    const codes = await ask<RecoveryCodesReply>('POST', `${FACTOR}/confirm`, ada, body)
    http.headrace.clock.advance(30_000)
    return { ...made, ...codes }
  }

  it('is set up, asked for at the sign-in, renewed and turned off', async () => {
    const { key } = await turnOn()
    const wanted = await enter()
    expect(wanted.status).toBe(401)
    expect(await wanted.json()).toEqual({
      error: 'Type the code of your second factor too.',
      needs: 'secondFactor',
    })
    expect((await enter(codeOf(key))).status).toBe(200)
    // the password that was shown before it was turned on counts no more
    expect((await http.ask('DELETE', FACTOR, { token: ada })).status).toBe(401)
    http.headrace.clock.advance(30_000)
    await ask('POST', '/api/session/proof', ada, { password: BENCH_PASSWORD, secondFactor: codeOf(key) })
    await ask('POST', `${FACTOR}/recoveryCodes`, ada, {})
    await ask('DELETE', FACTOR, ada)
    expect((await enter()).status).toBe(200)
  })

  it('tells the key once, in the reply that makes it, and no table of what happened holds it or a code', async () => {
    const { key, recoveryCodes } = await turnOn()
    await enter(codeOf(key))
    await enter(recoveryCodes[0])
    const texts = await Promise.all(
      ['/api/session', '/api/sessions', '/api/users', '/api/audit', '/api/health', '/api/openapi.json'].map(
        async (path) => (await http.ask('GET', path, { token: path === '/api/users' ? first : ada })).text(),
      ),
    )
    texts.push(await (await http.ask('GET', '/api/audit', { token: first })).text())
    texts.push(http.headrace.notices.join('\n'))
    for (const text of texts) for (const one of [key, ...recoveryCodes]) expect(text).not.toContain(one)
  })

  it('asks for the password again, on and off, ten minutes after it was shown', async () => {
    await turnOn()
    http.headrace.clock.advance(PROOF_MS)
    for (const [method, path] of [
      ['POST', FACTOR],
      ['POST', `${FACTOR}/confirm`],
      ['POST', `${FACTOR}/recoveryCodes`],
      ['DELETE', FACTOR],
    ] as const) {
      const refused = await http.ask(method, path, { token: ada, ...(method === 'POST' ? { body: {} } : {}) })
      expect(await refused.json(), path).toMatchObject({ needs: 'proof' })
    }
  })

  it('is asked for with the password wherever that is shown again, so that nobody at an open page takes it off', async () => {
    const { key } = await turnOn()
    http.headrace.clock.advance(PROOF_MS)
    const prove = (secondFactor?: string) =>
      http.ask('POST', '/api/session/proof', { token: ada, body: { password: BENCH_PASSWORD, secondFactor } })
    const change = { current: BENCH_PASSWORD, password: 'quite another sentence' }
    for (const refused of [
      await prove(),
      await http.ask('POST', '/api/session/password', { token: ada, body: change }),
    ]) {
      expect(refused.status).toBe(401)
      expect(await refused.json()).toMatchObject({ needs: 'secondFactor' })
    }
    expect((await http.ask('DELETE', FACTOR, { token: ada })).status).toBe(401)
    expect((await prove(codeOf(key))).status).toBe(200)
    await ask('DELETE', FACTOR, ada)
  })

  it('ends every other session of that person when it is turned on', async () => {
    const cookie = (await enter()).headers.getSetCookie()[0]!
    await turnOn()
    const other = cookie.split(';')[0]!.split('=')[1]!
    expect((await http.ask('GET', '/api/sessions', { token: other })).status).toBe(401)
    expect((await http.ask('GET', '/api/sessions', { token: ada })).status).toBe(200)
  })

  it('takes digits however they are typed, and six of anything else as a wrong code', async () => {
    const { key } = await turnOn()
    expect((await enter('日本語日本語')).status).toBe(401)
    expect((await enter('"`$(){}')).status).toBe(401)
    const fullWidth = codeOf(key).replace(/\d/g, (digit) => String.fromCharCode(0xff10 + Number(digit)))
    expect((await enter(fullWidth)).status).toBe(200)
  })

  it('is taken off a person by an administrator, with both names in the audit', async () => {
    await turnOn()
    const { id } = http.headrace.pageSide.access.administer.list().find(({ name }) => name === 'Ada')!
    await ask('DELETE', `/api/users/${id}/secondFactor`, first)
    expect((await enter()).status).toBe(200)
    const { entries } = await ask<AuditReply>('GET', '/api/audit', first)
    expect(entries).toContainEqual(
      expect.objectContaining({
        who: 'First',
        action: 'take second factor off',
        target: 'Ada',
        outcome: 'done',
      }),
    )
    expect(entries.map(({ action }) => action)).toContain('turn on second factor')
  })
})
