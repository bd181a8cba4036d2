import { createServer, type Server as HttpServer, type IncomingMessage } from 'node:http'
import type { AddressInfo } from 'node:net'
import { Server } from 'socket.io'
import { io as connect, type Socket } from 'socket.io-client'
import { afterEach, beforeEach, describe, expect, it } from 'vitest'
import { guardSockets } from '../../../server/access/guardSockets.ts'
import { IDLE_MS } from '../../../server/access/sessions.ts'
import { systemClock } from '../../../server/clock.ts'
import { createLivePlant } from '../../../server/livePlant.ts'
import { createHub, type Hub } from '../../../server/push/hub.ts'
import type { ClientToServer, ServerToClient } from '../../../server/wire/socketEvents.ts'
import { type AccessBench, accessBench } from '../../support/accessBench.ts'
import { memoryJournal } from '../../support/alarmBench.ts'
import { threeSensorPlant } from '../../support/plants.ts'

const ELSEWHERE = { 'x-forwarded-for': '192.0.2.9' }

describe('a live connection', () => {
  let bench: AccessBench
  let http: HttpServer
  let io: Server<ClientToServer, ServerToClient>
  let hub: Hub
  const sockets: Socket<ServerToClient, ClientToServer>[] = []

  beforeEach(async () => {
    bench = accessBench()
    http = createServer()
    io = new Server(http, { transports: ['websocket'] })
    const live = createLivePlant(threeSensorPlant(), {
      journal: memoryJournal(),
      counterStore: { load: () => undefined, days: () => [], save: () => true },
      mono: () => 0,
      onTransition: () => {},
    })
    const mayRead = (handshake: IncomingMessage) => bench.access.may(handshake, 'read')
    guardSockets(io, bench.access)
    const surroundings = {
      source: () => ({ connected: true, name: 'test', since: null }),
      health: () => ({ faults: 0, unmapped: 0, storing: true }),
    }
    hub = createHub(io, () => new Map([['mill', live]]), { clock: systemClock, surroundings, mayRead })
    await new Promise<void>((resolve) => http.listen(0, '127.0.0.1', resolve))
  })

  afterEach(async () => {
    for (const socket of sockets.splice(0)) socket.disconnect()
    await io.close()
    bench.close()
  })

  async function join(headers: Record<string, string>) {
    const { port } = http.address() as AddressInfo
    const socket: Socket<ServerToClient, ClientToServer> = connect(`http://127.0.0.1:${port}`, {
      transports: ['websocket'],
      extraHeaders: headers,
      reconnection: false,
    })
    sockets.push(socket)
    return { socket, reply: await socket.emitWithAck('join', 'mill') }
  }

  const gone = (socket: Socket) => new Promise((resolve) => socket.once('disconnect', resolve))

  it('from elsewhere without a session is refused with what to do', async () => {
    expect((await join(ELSEWHERE)).reply).toEqual({
      ok: false,
      error: 'Sign in to see this plant.',
      signIn: true,
    })
  })

  it('from elsewhere with a session, or from this machine without one, is served', async () => {
    const token = await bench.person('Ada', 'viewer')
    expect((await join({ ...ELSEWHERE, cookie: `headrace=${token}` })).reply.ok).toBe(true)
    expect((await join({})).reply.ok).toBe(true)
  })

  it('is cut off with the session that it was opened with, while others go on', async () => {
    const [ada, ben] = [await bench.person('Ada', 'viewer'), await bench.person('Ben', 'viewer')]
    const { socket } = await join({ ...ELSEWHERE, cookie: `headrace=${ada}` })
    const other = await join({ ...ELSEWHERE, cookie: `headrace=${ben}` })
    const cut = gone(socket)
    bench.access.administer.remove(bench.access.administer.list().find((one) => one.name === 'Ada')!.id)
    await cut
    expect(other.socket.connected).toBe(true)
    expect(await other.socket.emitWithAck('join', 'mill')).toMatchObject({ ok: true })
  })

  it('is cut off when the session runs out by itself', async () => {
    const { socket } = await join({ ...ELSEWHERE, cookie: `headrace=${await bench.person('Ada', 'viewer')}` })
    const cut = gone(socket)
    bench.clock.advance(IDLE_MS + 60_000)
    expect(await cut).toBe('io server disconnect')
  })

  it('that may not read is not even told which plants change', async () => {
    const stranger = await join(ELSEWHERE)
    const reader = await join({})
    const told: string[] = []
    stranger.socket.on('plantChanged', (plant) => told.push(plant))
    const heard = new Promise((resolve) => reader.socket.once('plantChanged', resolve))
    hub.plantChanged('mill')
    expect(await heard).toBe('mill')
    // Comes back after everything that was sent before it.
    await stranger.socket.emitWithAck('join', 'mill')
    expect(told).toEqual([])
  })
})
