import { io as connect, type Socket } from 'socket.io-client'
import { afterEach, beforeEach, describe, expect, it } from 'vitest'
import { IDLE_MS } from '../../../server/access/sessions.ts'
import type { ClientToServer, ServerToClient } from '../../../server/wire/socketEvents.ts'
import { type HttpBench, httpBench } from '../../support/httpBench.ts'
import { threeSensorPlant } from '../../support/plants.ts'

const ELSEWHERE = { 'x-forwarded-for': '192.0.2.9' }

describe('a live connection', () => {
  let bench: HttpBench
  const sockets: Socket<ServerToClient, ClientToServer>[] = []

  beforeEach(async () => {
    bench = await httpBench({}, [threeSensorPlant()])
  })

  afterEach(async () => {
    for (const socket of sockets.splice(0)) socket.disconnect()
    await bench.close()
  })

  function open(headers: Record<string, string>) {
    const socket: Socket<ServerToClient, ClientToServer> = connect(bench.headrace.url, {
      transports: ['websocket'],
      extraHeaders: headers,
      reconnection: false,
    })
    sockets.push(socket)
    return socket
  }

  async function join(headers: Record<string, string>) {
    const socket = open(headers)
    return { socket, reply: await socket.emitWithAck('join', 'mill') }
  }

  const gone = (socket: Socket) => new Promise((resolve) => socket.once('disconnect', resolve))

  const refused = (socket: Socket) =>
    new Promise<Error & { data?: unknown }>((resolve) => socket.once('connect_error', resolve))

  it('without a session is refused with what to do, from elsewhere and from this machine', async () => {
    for (const headers of [ELSEWHERE, {}]) {
      const error = await refused(open(headers))
      expect(error.message).toBe('Sign in to see this plant.')
      expect(error.data).toEqual({ signIn: true })
    }
  })

  it('from elsewhere with a session, or from a browser that entered on this machine, is served', async () => {
    const token = await bench.person('Ada', 'viewer')
    expect((await join({ ...ELSEWHERE, cookie: `headrace=${token}` })).reply.ok).toBe(true)
    expect((await join({ cookie: bench.headrace.machine })).reply.ok).toBe(true)
  })

  it('is cut off with the session that it was opened with, while others go on', async () => {
    const [ada, ben] = [await bench.person('Ada', 'viewer'), await bench.person('Ben', 'viewer')]
    const { socket } = await join({ ...ELSEWHERE, cookie: `headrace=${ada}` })
    const other = await join({ ...ELSEWHERE, cookie: `headrace=${ben}` })
    const cut = gone(socket)
    const { administer } = bench.headrace.pageSide.access
    administer.remove(administer.list().find((one) => one.name === 'Ada')!.id)
    await cut
    expect(other.socket.connected).toBe(true)
    expect(await other.socket.emitWithAck('join', 'mill')).toMatchObject({ ok: true })
  })

  it('is cut off when the session runs out by itself', async () => {
    const { socket } = await join({ ...ELSEWHERE, cookie: `headrace=${await bench.person('Ada', 'viewer')}` })
    const cut = gone(socket)
    bench.headrace.clock.sleep(IDLE_MS + 60_000)
    expect(await cut).toBe('io server disconnect')
  })
})
