import { createServer, get, type IncomingMessage, type Server } from 'node:http'
import type { AddressInfo } from 'node:net'
import { brotliCompressSync, brotliDecompressSync, gunzipSync, gzipSync } from 'node:zlib'
import express from 'express'
import { afterAll, beforeAll, describe, expect, it } from 'vitest'
import { pageFiles } from '../../../server/http/pageFiles.ts'
import { scratchFolder } from '../../support/scratch.ts'

const SCRIPT = 'console.log(1)\n'.repeat(100)
const HTML = '<!doctype html>\n'.repeat(100)

describe('the files of the page', () => {
  const scratch = scratchFolder()
  let server: Server

  beforeAll(async () => {
    for (const [name, text] of [
      ['index.html', HTML],
      ['assets/index-abc.js', SCRIPT],
    ] as const) {
      scratch.file(name, text)
      scratch.file(`${name}.br`, brotliCompressSync(text))
      scratch.file(`${name}.gz`, gzipSync(text))
    }
    scratch.file('favicon.svg', '<svg/>')
    server = createServer(express().use(pageFiles(scratch.path)))
    await new Promise<void>((resolve) => server.listen(0, '127.0.0.1', resolve))
  })
  afterAll(() => {
    server.close()
    scratch.remove()
  })

  /** As it stands on the wire; `fetch` would unpack it. */
  function raw(
    path: string,
    encodings: string,
    headers = {},
  ): Promise<{ reply: IncomingMessage; body: Buffer }> {
    const { port } = server.address() as AddressInfo
    return new Promise((resolve, reject) => {
      const options = { port, path, headers: { 'accept-encoding': encodings, ...headers }, agent: false }
      get(options, async (reply) => resolve({ reply, body: Buffer.concat(await reply.toArray()) })).on(
        'error',
        reject,
      )
    })
  }

  it('come in the best encoding that the browser takes, under their own type', async () => {
    const unpack = { br: brotliDecompressSync, gzip: gunzipSync }
    for (const [path, text, type] of [
      ['/', HTML, /^text\/html/],
      ['/assets/index-abc.js', SCRIPT, /javascript/],
    ] as const)
      for (const [takes, comes] of [
        ['gzip, deflate, br', 'br'],
        ['gzip', 'gzip'],
      ] as const) {
        const { reply, body } = await raw(path, takes)
        expect(reply.headers['content-encoding'], path).toBe(comes)
        expect(reply.headers['content-type']).toMatch(type)
        expect(reply.headers.vary).toBe('Accept-Encoding')
        expect(unpack[comes](body).toString()).toBe(text)
      }
  })

  it('come as they are to who takes nothing else, and where the build made nothing smaller', async () => {
    const plain = await raw('/assets/index-abc.js', 'identity')
    expect(plain.reply.headers['content-encoding']).toBeUndefined()
    expect(plain.body.toString()).toBe(SCRIPT)
    expect((await raw('/favicon.svg', 'br')).reply.headers['content-encoding']).toBeUndefined()
  })

  it('are kept for a year where the name changes with the content, and asked for anew elsewhere', async () => {
    const asset = (await raw('/assets/index-abc.js', 'br')).reply.headers
    expect(asset['cache-control']).toBe('public, max-age=31536000, immutable')
    const page = (await raw('/', 'br')).reply.headers
    expect(page['cache-control']).toBeUndefined()
    const again = await raw('/', 'br', { 'if-none-match': page.etag })
    expect(again.reply.statusCode).toBe(304)
  })

  it('are nothing that begins with a dot or lies beside the folder', async () => {
    scratch.file('.secret', 'x')
    expect((await raw('/.secret', 'br')).reply.statusCode).toBe(404)
    for (const path of ['/../package.json', '/assets/..%2f..%2fpackage.json', '/%'])
      expect((await raw(path, 'br')).reply.statusCode, path).toBeGreaterThanOrEqual(400)
  })
})
