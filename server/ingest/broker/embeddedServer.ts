import { type AddressInfo, createServer, type Server, type Socket } from 'node:net'
import { createServer as createTlsServer } from 'node:tls'
import { Aedes, type AedesPublishPacket, type Client } from 'aedes'
import { type Certificate, TLS_RULES } from '../../certificate.ts'
import { networkOf } from '../../hosts.ts'
import type { SparseLog } from '../../sparseLog.ts'
import type { BrokerCounters } from './broker.ts'
import { accessHooks, logSlowClients } from './embeddedAccess.ts'
import { createDoor, type Door } from './embeddedDoor.ts'
import type { Intake } from './embeddedIntake.ts'
import { type EmbeddedSettings, listenFault } from './embeddedOptions.ts'
import { storeRetained } from './embeddedOutlet.ts'
import { createHandshakes, type Handshakes, OF_NETWORK, OF_STRANGERS } from './handshakes.ts'

/** Messages that are handed on within each other before the stack is left to unwind. */
const DEEPEST = 100

export interface ServerOptions {
  settings: EmbeddedSettings
  intake: Intake
  counters: BrokerCounters
  log: SparseLog
}

/** aedes and the port it listens on. */
export interface EmbeddedServer {
  aedes: Aedes
  port: number
  /** Of the plain port on 127.0.0.1, where there is one beside that with TLS. */
  innerPort: number | undefined
  /** Resolves when everything written to clients so far is handed to the operating system. */
  flushed(): Promise<unknown>
  close(): Promise<void>
}

/** @throws {Error} with one sentence for the operator when the port cannot be had. */
export async function openServer({
  settings,
  intake,
  counters,
  log,
}: ServerOptions): Promise<EmbeddedServer> {
  const door = createDoor(settings, log, () => counters.oversize++)
  const handshakes = createHandshakes(settings.clock.mono)
  const known = (end: object) => {
    door.known(end)
    handshakes.known(networkOf((end as Socket).remoteAddress ?? ''))
  }
  const aedes = await openAedes({ settings, intake, counters, log }, { ...door, known })
  const take = (socket: Socket) => {
    door.guard(socket)
    aedes.handle(socket)
  }
  const { certificate, hasInnerPort } = settings
  const server = certificate
    ? tlsPort({ certificate, door, take, log, handshakes, counters })
    : plainPort(door, take)
  const inner = hasInnerPort ? plainPort(door, take) : undefined
  try {
    await listen(server, settings)
    if (inner) await listen(inner, { host: '127.0.0.1', port: 0 })
  } catch (error) {
    await closeAedes(aedes)
    throw listenFault(error as NodeJS.ErrnoException, settings)
  }
  const servers = inner ? [server, inner] : [server]
  for (const one of servers) one.on('error', (error) => log('error', `broker: ${error.message}`))
  return {
    aedes,
    port: (server.address() as AddressInfo).port,
    innerPort: (inner?.address() as AddressInfo | undefined)?.port,
    flushed: door.flushed,
    async close() {
      // aedes first: it tells its clients and sends their wills.
      await closeAedes(aedes)
      const gone = servers.map((one) => new Promise((resolve) => one.close(resolve)))
      door.closeAll()
      await Promise.all(gone)
    },
  }
}

function plainPort(door: Door, take: (socket: Socket) => void): Server {
  return createServer({ noDelay: true }, (socket) => {
    if (door.admit(socket)) take(socket)
  })
}

interface TlsPort {
  certificate: Certificate
  door: Door
  take: (socket: Socket) => void
  log: SparseLog
  handshakes: Handshakes
  counters: BrokerCounters
}

const TAKEN = {
  network: `${OF_NETWORK.perSecond}/s are taken of one network`,
  strangers: `${OF_STRANGERS.perSecond}/s are taken of all networks from which nobody has logged in`,
}

/** Connections are let in and counted before they have said anything; what is no TLS ends there. */
function tlsPort({ certificate, door, take, log, handshakes, counters }: TlsPort): Server {
  const server = createTlsServer({ ...TLS_RULES, ...certificate.pair(), noDelay: true }, take)
  server.on('connection', (connection) => {
    const address = connection.remoteAddress ?? ''
    const used = handshakes.refuse(networkOf(address))
    if (used === undefined) return void door.admit(connection)
    counters.handshakesRefused++
    log('handshakes', `broker: a connection from ${address} was refused: too many new ones, ${TAKEN[used]}`)
    connection.destroy()
  })
  server.on('tlsClientError', (error: NodeJS.ErrnoException, socket) => {
    const from = socket.remoteAddress ?? 'somebody'
    log('tls', `broker: no TLS came about with ${from}: ${error.code ?? error.message}`)
    socket.destroy()
  })
  const stop = certificate.onChange((pair) => server.setSecureContext({ ...TLS_RULES, ...pair }))
  server.once('close', stop)
  return server
}

/** Not in the package's types. */
interface Connected {
  clients: Readonly<Record<string, Client | undefined>>
}

async function openAedes({ settings, intake, counters, log }: ServerOptions, door: Door): Promise<Aedes> {
  const { clock } = settings
  const aedes: Aedes = await Aedes.createBroker({
    ...accessHooks({
      clock,
      settings,
      log,
      keepRetained(topic, payload) {
        if (intake.keepRetained(topic, payload)) storeRetained(aedes, topic, payload)
      },
      door: { ...door, clientCalled: (id) => (aedes as unknown as Connected).clients[id] },
      onLeftOut: () => counters.forwardDropped++,
    }),
    maxInflightInbound: settings.maxInflight,
    drainTimeout: settings.drainTimeoutMs,
    keepaliveLimit: settings.keepaliveLimitS,
    connectTimeout: settings.connectTimeoutMs,
  })
  // Unheard, an "error" event ends the process; faults of its store come here.
  aedes.addListener('error', (error: Error) => log('error', `broker: ${error.message}`))
  logSlowClients(aedes, log)
  // One subscription for everything: overlapping ones would deliver a message once each.
  let depth = 0
  const take = (packet: AedesPublishPacket, done: () => void) => {
    intake.take(packet.topic, packet.payload as Buffer, (packet as { clientId?: string }).clientId)
    // Synchronously, as aedes asks for. But with a queue behind it `done` comes back here for the next message, one
    // call inside the other: thousands of them once were more than the stack holds, and the process ended.
    if (depth >= DEEPEST) return void setImmediate(done)
    depth++
    done()
    depth--
  }
  await new Promise<void>((resolve) => aedes.subscribe('#', take, resolve))
  return aedes
}

function listen(server: Server, { host, port }: Pick<EmbeddedSettings, 'host' | 'port'>): Promise<void> {
  return new Promise((resolve, reject) => {
    server.once('error', reject)
    server.listen({ host, port }, () => {
      server.off('error', reject)
      resolve()
    })
  })
}

function closeAedes(aedes: Aedes): Promise<void> {
  return new Promise((resolve) => aedes.close(resolve))
}
