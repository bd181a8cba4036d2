import { afterEach, beforeEach, describe, expect, it } from 'vitest'
import type { HealthReply } from '../../../server/wire/replies.ts'
import { type HttpBench, httpBench } from '../../support/httpBench.ts'
import { plantOf, THREE_SENSORS } from '../../support/plants.ts'

describe('the probe', () => {
  let http: HttpBench
  beforeEach(async () => {
    http = await httpBench({}, [plantOf(THREE_SENSORS)])
  })
  afterEach(() => http.close())

  const probe = (headers: Record<string, string>) => http.ask('GET', '/api/health/probe', { headers })

  it('answers 200 while readings come and 503 with the reasons when they have ceased', async () => {
    http.measure('mill/power', '9')
    expect((await probe({ cookie: '' })).status).toBe(200)
    http.headrace.clock.advance(60_000)
    const late = await probe({ cookie: '' })
    expect(late.status).toBe(503)
    expect(await late.json()).toEqual({ error: expect.stringMatching(/Nothing has come from/) })
    const health = (await (await http.ask('GET', '/api/health')).json()) as HealthReply
    expect(health.flow.ok).toBe(false)
    expect(health.lastFault).toBeNull()
  })

  it('is for programs on this machine and for who may read, and for nobody else', async () => {
    http.measure('mill/power', '9')
    expect((await probe({ cookie: '', 'x-forwarded-for': '203.0.113.1' })).status).toBe(401)
    const token = await http.person('First', 'administrator')
    const asked = await http.ask('GET', '/api/health/probe', {
      token,
      headers: { 'x-forwarded-for': '203.0.113.1' },
    })
    expect(asked.status).toBe(200)
  })
})
