import { get, type IncomingMessage } from 'node:http'
import { gunzipSync } from 'node:zlib'
import { afterAll, beforeAll, describe, expect, it } from 'vitest'
import { type HttpBench, httpBench } from '../../support/httpBench.ts'
import { DEMO } from '../../support/testHeadrace.ts'

describe('replies of the interface', () => {
  let http: HttpBench

  beforeAll(async () => {
    http = await httpBench(DEMO)
  })
  afterAll(() => http.close())

  /** As it stands on the wire; `fetch` would unpack it. */
  function raw(path: string, encodings: string): Promise<{ reply: IncomingMessage; body: Buffer }> {
    const headers = { 'accept-encoding': encodings, cookie: http.headrace.machine }
    return new Promise((resolve, reject) => {
      get(http.headrace.url + path, { headers, agent: false }, async (reply) =>
        resolve({ reply, body: Buffer.concat(await reply.toArray()) }),
      ).on('error', reject)
    })
  }

  it.each(['/api/openapi.json', '/metrics'])(
    'are packed where they are long, and say the same: %s',
    async (path) => {
      const packed = await raw(path, 'gzip')
      const plain = await raw(path, 'identity')
      expect(packed.reply.headers['content-encoding']).toBe('gzip')
      expect(plain.reply.headers['content-encoding']).toBeUndefined()
      expect(packed.body.length).toBeLessThan(plain.body.length / 2)
      expect(gunzipSync(packed.body).length).toBeGreaterThan(0.9 * plain.body.length)
      expect(packed.reply.headers['content-type']).toBe(plain.reply.headers['content-type'])
    },
  )

  it('are as they are where they fit one packet', async () => {
    const { reply, body } = await raw('/api/session', 'gzip, br')
    expect(reply.headers['content-encoding']).toBeUndefined()
    expect(JSON.parse(body.toString())).toHaveProperty('actions')
  })

  it('are kept by nobody and may run nothing, packed or not', async () => {
    for (const encodings of ['gzip', 'br', 'identity']) {
      const { headers } = (await raw('/api/openapi.json', encodings)).reply
      expect(headers['cache-control']).toBe('no-store')
      expect(headers['content-security-policy']).toContain("default-src 'self'")
      expect(headers.vary).toContain('Accept-Encoding')
    }
  })
})
