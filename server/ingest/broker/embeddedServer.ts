import { type AddressInfo, createServer, type Server } from 'node:net'
import { Aedes, type AedesPublishPacket, type Client } from 'aedes'
import type { SparseLog } from '../../sparseLog.ts'
import type { BrokerCounters } from './broker.ts'
import { accessHooks, logSlowClients } from './embeddedAccess.ts'
import { createDoor, type Door } from './embeddedDoor.ts'
import type { Intake } from './embeddedIntake.ts'
import { type EmbeddedSettings, listenFault } from './embeddedOptions.ts'
import { storeRetained } from './embeddedOutlet.ts'

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
  const aedes = await openAedes({ settings, intake, counters, log }, door)
  const server = createServer({ noDelay: true }, (socket) => {
    if (door.admit(socket)) aedes.handle(socket)
  })
  try {
    await listen(server, settings)
  } catch (error) {
    await closeAedes(aedes)
    throw listenFault(error as NodeJS.ErrnoException, settings)
  }
  server.on('error', (error) => log('error', `broker: ${error.message}`))
  return {
    aedes,
    port: (server.address() as AddressInfo).port,
    flushed: door.flushed,
    async close() {
      // aedes first: it tells its clients and sends their wills.
      await closeAedes(aedes)
      const gone = new Promise((resolve) => server.close(resolve))
      door.closeAll()
      await gone
    },
  }
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

function listen(server: Server, { host, port }: EmbeddedSettings): Promise<void> {
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
