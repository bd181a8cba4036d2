import { afterEach, beforeEach, describe, expect, it } from 'vitest'
import type { SessionReply, SessionView } from '../../../server/wire/access.ts'
import { BENCH_PASSWORD } from '../../support/accessBench.ts'
import { type HttpBench, httpBench } from '../../support/httpBench.ts'
import { START } from '../../support/manualClock.ts'

// As this browser sends it, from memory.
const FIREFOX = 'Mozilla/5.0 (X11; Linux x86_64; rv:140.0) Gecko/20100101 Firefox/140.0'

describe('the own sessions', () => {
  let http: HttpBench
  let desk: string
  let phone: string
  let other: string
  beforeEach(async () => {
    http = await httpBench()
    await http.person('First', 'administrator')
    other = await http.person('Other', 'administrator')
    desk = await http.person('Ada', 'operator')
    http.headrace.clock.advance(60_000)
    phone = await enter({ 'user-agent': FIREFOX, 'x-forwarded-for': '192.0.2.5' })
  })
  afterEach(() => http.close())

  async function enter(headers: Record<string, string>): Promise<string> {
    const body = { name: 'Ada', password: BENCH_PASSWORD }
    const signed = await http.ask('POST', '/api/session', { body, headers })
    return /headrace=([^;]+)/.exec(signed.headers.get('set-cookie') ?? '')![1]!
  }
  const list = async (token: string, headers = {}) =>
    (await (await http.ask('GET', '/api/sessions', { token, headers })).json()) as SessionView[]
  const nameOf = async (token: string) =>
    ((await (await http.ask('GET', '/api/session', { token })).json()) as SessionReply).name

  it('are listed with browser, times and the place of the last request, and nobody else’s', async () => {
    await list(phone, { 'x-forwarded-for': '198.51.100.7' })
    http.headrace.clock.advance(5000)
    expect(await list(desk, { 'x-forwarded-for': '192.0.2.77' })).toEqual([
      {
        id: expect.any(String),
        isThis: true,
        browser: null,
        address: '192.0.2.77',
        startedAt: START,
        seenAt: START + 65_000,
      },
      {
        id: expect.any(String),
        isThis: false,
        browser: 'Firefox on Linux',
        address: '198.51.100.7',
        startedAt: START + 60_000,
        seenAt: START + 60_000,
      },
    ])
  })

  it('keep browser and place across a restart', async () => {
    await http.headrace.restart()
    expect(await list(desk)).toContainEqual(
      expect.objectContaining({ browser: 'Firefox on Linux', address: '192.0.2.5' }),
    )
  })

  it('tell nothing with which somebody could take one over', async () => {
    const text = JSON.stringify(await list(desk))
    for (const token of [desk, phone]) expect(text).not.toContain(token)
    for (const { id } of await list(desk)) expect(await nameOf(id)).toBeNull()
  })

  it('end one by one, those of another person not', async () => {
    const [theirs] = await list(other)
    expect((await http.ask('DELETE', `/api/sessions/${theirs!.id}`, { token: desk })).status).toBe(404)
    expect(await nameOf(other)).toBe('Other')
    const one = (await list(desk)).find(({ isThis }) => !isThis)!
    expect((await http.ask('DELETE', `/api/sessions/${one.id}`, { token: desk })).status).toBe(200)
    expect([await nameOf(phone), await nameOf(desk)]).toEqual([null, 'Ada'])
  })

  it('end all but the one that asks', async () => {
    expect((await http.ask('DELETE', '/api/sessions', { token: phone })).status).toBe(200)
    expect([await nameOf(phone), await nameOf(desk), await nameOf(other)]).toEqual(['Ada', null, 'Other'])
  })
})
