import { connect } from 'node:net'
import { io, type Socket } from 'socket.io-client'
import { afterEach, beforeEach, describe, expect, it } from 'vitest'
import type { HealthReply } from '../../../server/wire/replies.ts'
import type { JoinReply } from '../../../server/wire/socketEvents.ts'
import { type HttpBench, httpBench } from '../../support/httpBench.ts'
import { USUAL } from '../../support/limits.ts'

const STRANGER = { via: 'x' }

describe('what one side may ask of the page', () => {
  let bench: HttpBench
  const sockets: Socket[] = []

  beforeEach(async () => {
    bench = await httpBench({}, undefined, USUAL)
  })

  afterEach(async () => {
    for (const socket of sockets.splice(0)) socket.disconnect()
    await bench.close()
  })

  /** Everything that comes back on one connection until it ends or falls silent. */
  function sendRaw(text: string): Promise<string> {
    const { hostname, port } = new URL(bench.headrace.url)
    return new Promise((resolve) => {
      const socket = connect(Number(port), hostname, () => socket.write(text))
      let answer = ''
      socket.setTimeout(2000, () => socket.destroy())
      socket.on('data', (chunk) => {
        answer += chunk.toString('latin1')
      })
      socket.on('error', () => {})
      socket.on('close', () => resolve(answer))
    })
  }

  function open(headers: Record<string, string> = { cookie: bench.headrace.machine }): Socket {
    const socket = io(bench.headrace.url, {
      transports: ['websocket'],
      reconnection: false,
      forceNew: true,
      extraHeaders: headers,
    })
    sockets.push(socket)
    return socket
  }

  const refusal = (socket: Socket) =>
    new Promise<Error & { data?: unknown }>((resolve) => socket.once('connect_error', resolve))
  const entered = (socket: Socket) => new Promise<void>((resolve) => socket.once('connect', resolve))
  const cutOff = (socket: Socket) => new Promise<string>((resolve) => socket.once('disconnect', resolve))

  it('closes a connection on which requests are piled up without waiting for answers', async () => {
    const one = 'GET /api/openapi.json HTTP/1.1\r\nHost: 127.0.0.1\r\nVia: x\r\n\r\n'
    const answer = await sendRaw(one.repeat(800))
    expect(answer.split('HTTP/1.1 200').length - 1).toBeLessThanOrEqual(4)
  })

  it('forgets what was piled up on a connection that is closed', async () => {
    const one = 'GET /api/openapi.json HTTP/1.1\r\nHost: 127.0.0.1\r\nVia: x\r\n\r\n'
    for (let i = 0; i < USUAL.http.unanswered; i++) {
      await sendRaw(one.repeat(20))
      bench.headrace.clock.advance(1000)
    }
    expect((await bench.ask('GET', '/api/session', { headers: STRANGER })).status).toBe(200)
    const token = await bench.person('Anna', 'operator')
    const { queues } = (await (await bench.ask('GET', '/api/health', { token })).json()) as HealthReply
    const waiting = queues.find(({ name }) => name === 'requests without an answer yet')
    // that for health itself
    expect(waiting?.length).toBe(1)
  })

  it('lets a browser in although others hold every connection and ask nothing', async () => {
    await bench.close()
    bench = await httpBench({}, undefined, { ...USUAL, http: { ...USUAL.http, connections: 10 } })
    const { hostname, port } = new URL(bench.headrace.url)
    const silent = Array.from({ length: 15 }, () => {
      const socket = connect(Number(port), hostname, () => socket.write('GET / HTTP/1.1\r\nA:'))
      socket.on('error', () => {})
      return new Promise<void>((resolve) => socket.once('close', () => resolve()))
    })
    await Promise.race(silent)
    expect((await bench.ask('GET', '/api/session')).status).toBe(200)
  })

  it('answers requests that come one after the other on one connection', async () => {
    for (let i = 0; i < 20; i++) expect((await bench.ask('GET', '/api/session')).status).toBe(200)
  })

  it('refuses what is more than a burst, and takes requests again after a while', async () => {
    const ask = (headers: Record<string, string>) => bench.ask('GET', '/api/session', { headers })
    const { burst } = USUAL.http.requests.stranger
    for (let i = 0; i < burst; i++) expect((await ask(STRANGER)).status).toBe(200)
    const refused = await ask(STRANGER)
    expect(refused.status).toBe(429)
    expect(refused.headers.get('retry-after')).toBe('1')
    expect(await refused.json()).toEqual({ error: 'Too many requests. Try again in a second.' })
    expect((await ask({ 'x-forwarded-for': '203.0.113.9' })).status).toBe(200)
    bench.headrace.clock.advance(1000)
    expect((await ask(STRANGER)).status).toBe(200)
  })

  it('answers a person who is signed in while strangers at the same address are refused', async () => {
    const token = await bench.person('Anna', 'operator')
    const ask = () => bench.ask('GET', '/api/session', { headers: STRANGER })
    for (let i = 0; i < USUAL.http.requests.stranger.burst; i++) await ask()
    expect((await ask()).status).toBe(429)
    expect((await bench.ask('GET', '/api/plants', { token })).status).toBe(200)
  })

  it('counts what it refused where the operator looks', async () => {
    const token = await bench.person('Anna', 'operator')
    for (let i = 0; i <= USUAL.http.requests.stranger.burst; i++)
      await bench.ask('GET', '/api/session', { headers: STRANGER })
    const health = (await (await bench.ask('GET', '/api/health', { token })).json()) as {
      queues: { name: string; dropped: number }[]
    }
    const queue = health.queues.find(({ name }) => name === 'requests without a sign-in')
    expect(queue?.dropped).toBeGreaterThan(0)
  })

  it('sends a stranger’s live connection away with the way to sign in, before it takes a place', async () => {
    const error = await refusal(open(STRANGER))
    expect(error.message).toBe('Sign in to see this plant.')
    expect(error.data).toEqual({ signIn: true })
  })

  /** A web socket by hand, by a stranger; `frame` is sent so many times. @returns what came until it was closed. */
  function sendFrames(frame: string, times: number): Promise<string> {
    const text = Buffer.from(frame)
    // RFC 6455, 5.2: final text frame, masked with zeros
    const one = Buffer.concat([Buffer.from([0x81, 0x80 | text.length, 0, 0, 0, 0]), text])
    const { hostname, port } = new URL(bench.headrace.url)
    const opening = [
      'GET /socket.io/?EIO=4&transport=websocket HTTP/1.1',
      `Host: ${hostname}:${port}`,
      'Via: x',
      'Connection: Upgrade',
      'Upgrade: websocket',
      'Sec-WebSocket-Version: 13',
      'Sec-WebSocket-Key: AAAAAAAAAAAAAAAAAAAAAA==',
    ]
    return new Promise((resolve) => {
      const socket = connect(Number(port), hostname, () => socket.write(`${opening.join('\r\n')}\r\n\r\n`))
      let answer = ''
      socket.once('data', () => socket.write(Buffer.concat(Array.from({ length: times }, () => one))))
      socket.on('data', (chunk) => {
        answer += chunk.toString('latin1')
      })
      socket.setTimeout(3000, () => socket.destroy())
      socket.on('error', () => {})
      socket.on('close', () => resolve(answer))
    })
  }

  it('cuts off a live connection that says anything else than who it is, before it is let in', async () => {
    const answer = await sendFrames('40/elsewhere,', 500)
    expect(answer).toContain('HTTP/1.1 101')
    expect(answer.split('Invalid namespace').length - 1).toBeLessThanOrEqual(5)
  })

  it('counts what is asked for under the address of live connections as it counts everything', async () => {
    const one = 'GET /socket.io/?EIO=4 HTTP/1.1\r\nHost: 127.0.0.1\r\nVia: x\r\n\r\n'
    const answer = await sendRaw(one.repeat(800))
    expect(answer.split('HTTP/1.1 ').length - 1).toBeLessThanOrEqual(4)
  })

  it('opens no more live connections of one side than it may', async () => {
    const { burst } = USUAL.sockets.connecting
    const answers = await Promise.all(Array.from({ length: burst + 20 }, () => sendFrames('x', 10)))
    expect(answers.filter((answer) => answer.startsWith('HTTP/1.1 101')).length).toBeLessThanOrEqual(burst)
  })

  it('cuts off a live connection that joins again and again', async () => {
    const socket = open()
    await entered(socket)
    const gone = cutOff(socket)
    const answers: JoinReply[] = []
    for (let i = 0; i < 500; i++) socket.emit('join', 'mill', (answer: JoinReply) => answers.push(answer))
    await gone
    expect(answers.length).toBeLessThanOrEqual(USUAL.sockets.joins.burst)
  })

  it('cuts off a live connection that sends more than a page ever does', async () => {
    const socket = open()
    await entered(socket)
    const gone = cutOff(socket)
    for (let i = 0; i < 1000; i++) socket.emit('leave')
    await gone
  })

  it('cuts off who joins nothing', async () => {
    const socket = open()
    await entered(socket)
    const gone = cutOff(socket)
    bench.headrace.clock.advance(USUAL.sockets.patienceMs)
    await gone
  })

  it('keeps places for people who are signed in when all those for strangers are taken', async () => {
    await bench.close()
    const limits = { ...USUAL, sockets: { ...USUAL.sockets, strangers: 2 } }
    bench = await httpBench({ openReading: true }, undefined, limits)
    const anna = await bench.person('Anna', 'operator')
    await Promise.all([entered(open(STRANGER)), entered(open(STRANGER))])
    expect((await refusal(open(STRANGER))).message).toBe('Too many viewers. Try again later.')
    await entered(open({ ...STRANGER, cookie: `headrace=${anna}` }))
  })

  it('reads a proxy’s header also behind more headers than the default of the library keeps', async () => {
    const many = Array.from({ length: 2400 }, () => 'a:b').join('\r\n')
    const answer = await sendRaw(
      `GET /api/session HTTP/1.1\r\nHost: 127.0.0.1\r\n${many}\r\nX-Forwarded-For: 203.0.113.9\r\nConnection: close\r\n\r\n`,
    )
    expect(answer).toContain('"role":null')
    expect(answer).not.toContain('"read"')
  })

  it('says in plain words to a browser that the address of the console was used, and lets one in that is in already', async () => {
    const enter = (headers: Record<string, string>) =>
      fetch(`${bench.headrace.url}/enter/USED`, { headers, redirect: 'manual' })
    const stranger = await enter({})
    expect(stranger.status).toBe(410)
    expect(stranger.headers.get('content-type')).toMatch(/^text\/plain/)
    expect(await stranger.text()).toContain('The newest stands on the server’s console.')
    const ahead = await fetch(`${bench.headrace.url}/enter/USED`, { method: 'HEAD' })
    expect([ahead.status, ahead.headers.get('allow')]).toEqual([405, 'GET'])
    const again = await enter({ cookie: bench.headrace.machine })
    expect([again.status, again.headers.get('location')]).toEqual([303, '/'])
  })
})
