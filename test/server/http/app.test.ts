import { request as httpRequest } from 'node:http'
import { gzipSync } from 'node:zlib'
import { afterEach, beforeEach, describe, expect, it } from 'vitest'
import { type HttpBench, httpBench } from '../../support/httpBench.ts'
import { DEMO } from '../../support/testHeadrace.ts'

describe('the HTTP interface', () => {
  let http: HttpBench

  beforeEach(async () => {
    http = await httpBench(DEMO)
  })
  afterEach(() => http.close())

  const get = (path: string) => http.ask('GET', path)
  const post = (path: string, body: unknown, headers: Record<string, string> = {}) =>
    http.ask('POST', path, { body, headers })

  it('lists the plants with their headline figure', async () => {
    const plants = (await (await get('/api/plants')).json()) as {
      id: string
      headline: { figure: { id: string } }
    }[]
    expect(plants.map((one) => one.id)).toEqual(['mill', 'play'])
    expect(plants[0]!.headline.figure.id).toBe('activePower')
  })

  it('answers an unknown plant, figure, alarm and path with 404 and a sentence', async () => {
    for (const path of [
      '/api/plants/none/live',
      '/api/plants/mill/figures/none/explain',
      '/api/nothing',
      '/api/plants/mill/history?figures=none',
    ]) {
      const response = await get(path)
      expect(response.status, path).toBe(404)
      expect(((await response.json()) as { error: string }).error, path).toMatch(/no|nothing/i)
    }
  })

  it('says which part of a history query cannot be used, what came and what was expected', async () => {
    const response = await get('/api/plants/mill/history?figures=netHead&points=0')
    expect(response.status).toBe(400)
    expect(await response.json()).toMatchObject({ faults: [{ path: 'points', received: '"0"' }] })
  })

  it('gives history as columns with null for gaps', async () => {
    const response = await get('/api/plants/mill/history?figures=netHead&from=0&to=10&points=2')
    expect(await response.json()).toMatchObject({
      figures: [{ id: 'netHead', unit: 'm', mean: [null, null] }],
    })
  })

  it('acknowledges an alarm, and again without harm', async () => {
    http.measure('mill/power', '0.01')
    for (let i = 0; i < 2; i++) {
      const response = await post('/api/plants/mill/alarms/low/acknowledge', {})
      expect(await response.json()).toMatchObject({
        state: 'acknowledged',
        acknowledgedBy: 'demo (this machine)',
      })
    }
  })

  it('takes no action from a page of another site', async () => {
    for (const headers of [{ origin: 'http://evil.example' }, { 'sec-fetch-site': 'cross-site' }]) {
      const response = await post('/api/plants/mill/alarms/low/acknowledge', {}, headers)
      expect(response.status).toBe(403)
    }
  })

  it('takes no action from a form', async () => {
    const response = await fetch(`${http.headrace.url}/api/plants/mill/alarms/low/acknowledge`, {
      method: 'POST',
      body: 'note=1',
      headers: { 'content-type': 'text/plain' },
    })
    expect(response.status).toBe(415)
  })

  it('answers only under a loopback name, so that no foreign name can be bent to it', async () => {
    const status = await new Promise((resolve) => {
      const { port } = new URL(http.headrace.url)
      httpRequest(
        { host: '127.0.0.1', port, path: '/api/plants', headers: { host: 'rebound.example' } },
        (response) => resolve(response.statusCode),
      ).end()
    })
    expect(status).toBe(403)
  })

  it('commands the simulator of a simulated plant', async () => {
    await post('/api/plants/play/simulator/jet', { value: false })
    await post('/api/plants/play/simulator/head', { value: 20 })
    await post('/api/plants/play/simulator/mode', { value: 'a' })
    expect(http.headrace.broker.published).toEqual([
      { topic: 'play/simulator/command/jet', payload: '0' },
      { topic: 'play/simulator/command/head', payload: '20' },
      { topic: 'play/simulator/command/mode', payload: 'a' },
    ])
  })

  it('never commands a real plant', async () => {
    const response = await post('/api/plants/mill/simulator/jet', { value: true })
    expect(response.status).toBe(403)
    expect(http.headrace.broker.published).toEqual([])
  })

  it.each([
    ['jet', 3],
    ['head', 99],
    ['head', 'x'],
    ['mode', 'z'],
  ])('refuses the value of control %s: %s', async (control, value) => {
    expect((await post(`/api/plants/play/simulator/${control}`, { value })).status).toBe(400)
    expect(http.headrace.broker.published).toEqual([])
  })

  it('answers broken JSON with 400 and a huge body with 413', async () => {
    const broken = await fetch(`${http.headrace.url}/api/plants/mill/alarms/low/acknowledge`, {
      method: 'POST',
      headers: { 'content-type': 'application/json', cookie: http.headrace.machine },
      body: '{',
    })
    expect(broken.status).toBe(400)
    expect((await post('/api/plants/mill/alarms/low/acknowledge', { note: 'x'.repeat(20_000) })).status).toBe(
      413,
    )
  })

  it('allows no inline script and no framing', async () => {
    const policy = (await get('/api/plants')).headers.get('content-security-policy')
    expect(policy).toContain("default-src 'self'")
    expect(policy).toContain("frame-ancestors 'none'")
    expect(policy).not.toContain('unsafe-inline')
  })

  it('lets its page connect to nothing but itself', async () => {
    const policy = (await get('/api/plants')).headers.get('content-security-policy')
    expect(policy).toContain("connect-src 'self';")
  })

  it('binds the browser to HTTPS where the page comes by it, and only there', async () => {
    const strict = async (headers: Record<string, string>) =>
      (await http.ask('GET', '/api/plants', { headers })).headers.get('strict-transport-security')
    expect(await strict({ 'x-forwarded-proto': 'https' })).toBe('max-age=31536000')
    expect(await strict({})).toBeNull()
  })

  it('binds it for the names below its own too where that is asked for (RFC 6797, 6.1.2)', async () => {
    await http.close()
    http = await httpBench({ ...DEMO, httpsSubdomains: true })
    const reply = await http.ask('GET', '/api/plants', { headers: { 'x-forwarded-proto': 'https' } })
    expect(reply.headers.get('strict-transport-security')).toBe('max-age=31536000; includeSubDomains')
  })

  it('lets nobody keep what it says of plants or of itself', async () => {
    for (const path of ['/api/plants', '/metrics'])
      expect((await get(path)).headers.get('cache-control'), path).toBe('no-store')
  })

  it('takes no compressed body, which may unfold to any size', async () => {
    const response = await fetch(`${http.headrace.url}/api/plants/mill/alarms/low/acknowledge`, {
      method: 'POST',
      headers: {
        'content-type': 'application/json',
        'content-encoding': 'gzip',
        cookie: http.headrace.machine,
      },
      body: gzipSync('{}'),
    })
    expect(response.status).toBe(415)
    expect(await response.json()).toEqual({ error: expect.stringContaining('not compressed') })
  })

  it('writes its numbers as open-metrics text too', async () => {
    const text = await (await get('/metrics')).text()
    expect(text).toMatch(/^# TYPE headrace_up gauge\nheadrace_up 1$/m)
  })
})
