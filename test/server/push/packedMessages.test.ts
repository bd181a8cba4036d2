import { type IncomingMessage, request } from 'node:http'
import type { Socket } from 'node:net'
import { constants, deflateRawSync } from 'node:zlib'
import { afterEach, beforeEach, describe, expect, it } from 'vitest'
import { type HttpBench, httpBench } from '../../support/httpBench.ts'
import { DEMO } from '../../support/testHeadrace.ts'

describe('a live connection', () => {
  let http: HttpBench

  beforeEach(async () => {
    http = await httpBench(DEMO)
  })
  afterEach(() => http.close())

  /** The opening of RFC 6455, 4.1, that offers to pack messages (RFC 7692). */
  function open(): Promise<{ reply: IncomingMessage; socket: Socket }> {
    const headers = {
      connection: 'Upgrade',
      upgrade: 'websocket',
      'sec-websocket-version': '13',
      'sec-websocket-key': Buffer.alloc(16).toString('base64'),
      'sec-websocket-extensions': 'permessage-deflate; client_max_window_bits',
      cookie: http.headrace.machine,
    }
    return new Promise((resolve, reject) => {
      request(`${http.headrace.url}/socket.io/?EIO=4&transport=websocket`, { headers })
        .on('upgrade', (reply, socket: Socket) => resolve({ reply, socket }))
        .on('error', reject)
        .end()
    })
  }

  it('agrees to no packed messages', async () => {
    const { reply, socket } = await open()
    expect(reply.headers['sec-websocket-extensions']).toBeUndefined()
    socket.destroy()
  })

  it('is closed by one that would unfold to 100 MB, and nothing of it is unfolded', async () => {
    const { socket } = await open()
    const bomb = deflateRawSync(Buffer.alloc(100_000_000), { finishFlush: constants.Z_SYNC_FLUSH })
    const before = process.memoryUsage().rss
    const closed = new Promise((resolve) => socket.once('close', resolve))
    socket.on('error', () => {}).resume()
    socket.write(packedFrame(bomb))
    await closed
    expect(process.memoryUsage().rss - before).toBeLessThan(50_000_000)
    expect((await http.ask('GET', '/api/plants')).status).toBe(200)
  })
})

/** A text frame with the bit of packed messages (RSV1), masked by zeros: RFC 6455, 5.2, and RFC 7692, 6. */
function packedFrame(payload: Buffer): Buffer {
  const head = Buffer.alloc(14)
  head[0] = 0b1100_0001
  head[1] = 0b1000_0000 | 127
  head.writeBigUInt64BE(BigInt(payload.length), 2)
  return Buffer.concat([head, payload])
}
