import { createServer, type Server as HttpServer, type IncomingMessage } from 'node:http'
import type { AddressInfo } from 'node:net'
import { join } from 'node:path'
import { Server } from 'socket.io'
import { guardSockets } from './access/guardSockets.ts'
import { type Access, openAccess } from './access/openAccess.ts'
import type { Clock } from './clock.ts'
import { ROOT } from './demo.ts'
import type { HttpContext } from './http/context.ts'
import { createApp } from './http/createApp.ts'
import { isKnownHost, isSameOrigin } from './http/guards.ts'
import { guardSeats } from './lessons/guardSeats.ts'
import { createLessons, withLessons } from './lessons/lessons.ts'
import { isLoopback, type Options } from './options.ts'
import { createHub, type Hub, type Surroundings } from './push/hub.ts'
import { createReplays } from './replay/replays.ts'
import { StartRefused, type State } from './state/openState.ts'
import type { ClientToServer, ServerToClient } from './wire/events.ts'

const LARGEST_CLIENT_MESSAGE = 64_000
const WITHOUT_TLS =
  'Other machines can reach this page without encryption: passwords can be read on the way. Put a proxy with HTTPS before it.'

export interface PageServer {
  hub: Hub
  access: Access
  url: string
  close(): Promise<void>
}

interface PageServerOptions {
  options: Options
  clock: Clock
  surroundings: Surroundings
  /** Holds users, sessions and audit. */
  state: State
}

/** HTTP, the page and the live connection to browsers, all on one port. */
export async function startPageServer(
  context: Omit<HttpContext, 'hub' | 'access' | 'replays' | 'lessons'>,
  { options, clock, surroundings, state }: PageServerOptions,
): Promise<PageServer> {
  const home = { host: options.httpHost, pageName: options.pageName }
  const http = createServer()
  const io = new Server<ClientToServer, ServerToClient>(http, {
    serveClient: false,
    transports: ['websocket'],
    maxHttpBufferSize: LARGEST_CLIENT_MESSAGE,
    allowRequest: (request, answer) => answer(null, isSameOrigin(request) && isKnownHost(request, home)),
  })
  const replays = createReplays({
    history: context.history,
    clock,
    show: (scene, change) => hub.show(scene, change),
    watching: (scene) => hub.watching(scene),
  })
  const { plants, trials } = context
  const lessons = createLessons({ state, clock, plants, trials, scenes: replays.scene })
  const access = openAccess({ state, clock, options, seats: lessons.seats, onNotice: console.log })
  guardSockets(io, access)
  guardSeats(io, lessons.seats)
  const mayRead = (handshake: IncomingMessage, scene: string) =>
    access.may(handshake, 'read') || lessons.mayWatch(handshake, scene)
  const scenes = (id: string) => replays.scene(id) ?? lessons.scene(id)
  const hub = withLessons(createHub(io, context.plants, { clock, surroundings, mayRead, scenes }), lessons)
  http.on(
    'request',
    createApp(
      { ...context, hub, access, replays, lessons },
      { webFolder: join(ROOT, 'dist', 'web'), ...home },
    ),
  )
  const port = await listen(http, options)
  const stopReplays = clock.every(options.tickMs, replays.tick)
  access.announce()
  if (!isLoopback(options.httpHost)) console.log(WITHOUT_TLS)
  return {
    hub,
    access,
    url: `http://${options.httpHost.includes(':') ? `[${options.httpHost}]` : options.httpHost}:${port}`,
    async close() {
      stopReplays()
      await context.trials.close()
      lessons.close()
      access.close()
      await new Promise<void>((resolve) => {
        http.closeAllConnections()
        void io.close(() => resolve())
      })
    },
  }
}

function listen(http: HttpServer, { httpHost, httpPort }: Options): Promise<number> {
  return new Promise((resolve, reject) => {
    http.once('error', (error: NodeJS.ErrnoException) => reject(refusal(error, httpHost, httpPort)))
    http.listen(httpPort, httpHost, () => resolve((http.address() as AddressInfo).port))
  })
}

function refusal(error: NodeJS.ErrnoException, host: string, port: number): Error {
  if (error.code === 'EADDRINUSE')
    return new StartRefused(`Port ${port} on ${host} is already in use. Choose another with --http-port.`)
  if (error.code === 'EACCES')
    return new StartRefused(
      `Port ${port} on ${host} may not be used by this account. Choose another with --http-port.`,
    )
  return new StartRefused(`The page cannot be served on ${host}:${port}: ${error.message}.`)
}
