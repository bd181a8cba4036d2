import { request } from 'node:http'
import { afterAll, beforeAll, describe, expect, it } from 'vitest'
import { type HttpBench, httpBench } from '../support/httpBench.ts'

interface Answer {
  status: number
  headers: Record<string, string | string[] | undefined>
  text: string
}

// What is asked for: OWASP ASVS 5.0.0, by the ids in the titles (asvs.md).
describe('what every answer of the page tells a browser', () => {
  let bench: HttpBench
  beforeAll(async () => {
    bench = await httpBench()
  })
  afterAll(() => bench.close())

  /** By methods and with headers that fetch would not send. */
  function ask(method: string, path: string, headers: Record<string, string> = {}): Promise<Answer> {
    const { hostname, port } = new URL(bench.headrace.url)
    return new Promise((resolve, reject) => {
      const one = request({
        hostname,
        port,
        method,
        path,
        headers: { cookie: bench.headrace.machine, ...headers },
      })
      const take = (status: number, found: Answer['headers'], text: string) =>
        resolve({ status, headers: found, text })
      one.on('response', (response) => {
        let text = ''
        response.setEncoding('utf8').on('data', (chunk: string) => {
          text += chunk
        })
        response.on('end', () => take(response.statusCode!, response.headers, text))
      })
      one.on('upgrade', (response, socket) => {
        socket.destroy()
        take(response.statusCode!, response.headers, '')
      })
      one.on('error', reject)
      one.end()
    })
  }

  it.each([
    '/',
    '/api/plants',
    '/api/nothing',
    '/metrics',
    '/api/openapi.json',
    '/acknowledge/nonsense',
    '/assets/none.js',
  ])(
    'is at %s: no guessing of types, no referrer, no frame, contents from here alone (V3.2.1, V3.4.3 to V3.4.6)',
    async (path) => {
      const { headers } = await ask('GET', path)
      expect(headers['x-content-type-options']).toBe('nosniff')
      expect(headers['referrer-policy']).toBe('no-referrer')
      const policy = String(headers['content-security-policy'])
      for (const rule of ["frame-ancestors 'none'", "base-uri 'none'"]) expect(policy).toContain(rule)
      expect(policy).toMatch(/default-src '(?:self|none)'/)
      expect(headers['access-control-allow-origin']).toBeUndefined()
    },
  )

  it.each(['/api/plants', '/api/nothing', '/metrics'])(
    'is at %s: the type of text and its letters (V4.1.1)',
    async (path) => {
      expect((await ask('GET', path)).headers['content-type']).toMatch(/; charset=utf-8$/i)
    },
  )

  it.each(['TRACE', 'CONNECT', 'PUT', 'PROPFIND'])(
    'takes no %s, and repeats nothing of it (V13.4.4)',
    async (method) => {
      if (method === 'CONNECT') {
        await expect(ask(method, '/api/plants')).rejects.toThrow(/socket hang up|ECONNRESET/)
        return
      }
      const { status, text } = await ask(method, '/api/plants', { 'x-secret': 'repeat-me' })
      expect(status).toBe(404)
      expect(text).not.toContain('repeat-me')
    },
  )

  it.each(['/assets/', '/assets', '/.git/config', '/.env', '/../package.json', '/%2e%2e/package.json'])(
    'shows no list of files and nothing beside them: %s (V13.4.1, V13.4.3)',
    async (path) => {
      const { status, text } = await ask('GET', path)
      expect([301, 400, 403, 404]).toContain(status)
      expect(text).not.toMatch(/"dependencies"|\[core\]|index\.js/)
    },
  )

  it.each<[string, Record<string, string>, number]>([
    ['from its own page', {}, 101],
    ['from another origin', { origin: 'http://evil.example' }, 400],
    ['from no origin that has a name', { origin: 'null' }, 400],
  ])('answers a live connection %s as it should (V4.4.2)', async (_, headers, status) => {
    const upgrade = {
      connection: 'Upgrade',
      upgrade: 'websocket',
      'sec-websocket-version': '13',
      'sec-websocket-key': Buffer.alloc(16).toString('base64'),
    }
    const own = { origin: bench.headrace.url }
    const answer = await ask('GET', '/socket.io/?EIO=4&transport=websocket', {
      ...upgrade,
      ...own,
      ...headers,
    })
    expect(answer.status).toBe(status)
  })
})
