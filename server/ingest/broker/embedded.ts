import { createSparseLog } from '../../sparseLog.ts'
import {
  type Broker,
  createBrokerCounters,
  createStatusBoard,
  OFFLINE,
  ONLINE,
  settleOnClosing,
} from './broker.ts'
import { createIntake } from './embeddedIntake.ts'
import { type EmbeddedBrokerOptions, refuseOpenDoor, withDefaults } from './embeddedOptions.ts'
import { createOutlet } from './embeddedOutlet.ts'
import { type EmbeddedServer, openServer } from './embeddedServer.ts'

export type { EmbeddedBrokerOptions }

/**
 * A broker in this process; `port()` is the real port once it is started, also where 0 was asked for, and `innerUrl()`
 * the address for a program of our own.
 */
export type EmbeddedBroker = Broker & { port(): number; innerUrl(): string }

/**
 * An MQTT 3.1.1 broker in this process. Readings are taken from it directly, not through a socket.
 *
 * Nothing survives a restart: no sessions, no retained messages. A message counts as retained only where it came
 * before the `subscribe` that asks for it; a client's live message with the retain flag is live.
 *
 * `start` rejects when the port is taken, may not be used, or would be open to strangers without a password.
 */
export function createEmbeddedBroker(options: EmbeddedBrokerOptions): EmbeddedBroker {
  const settings = withDefaults(options)
  const log = createSparseLog(settings.log, settings.clock)
  const counters = createBrokerCounters()
  const intake = createIntake({ settings, counters, log })
  const outlet = createOutlet({ intake, counters, limit: settings.maxPublishing })
  let server: EmbeddedServer | undefined
  let phase: 'new' | 'open' | 'closed' = 'new'
  const port = () => server?.port ?? settings.port
  const words = settings.certificate ? ' with TLS' : ''
  const status = createStatusBoard(
    settings.clock,
    () => `embedded broker${words} on ${settings.host}:${port()}`,
  )

  async function start(): Promise<void> {
    if (phase !== 'new') throw new Error('embedded broker: start() was called twice or after close()')
    refuseOpenDoor(settings)
    server = await openServer({ settings, intake, counters, log })
    phase = 'open'
    tellPresence(ONLINE)
    status.set(true)
  }

  function tellPresence(word: string): void {
    if (settings.presenceTopic !== undefined)
      outlet.publish(server?.aedes, settings.presenceTopic, word, { retain: true })
  }

  async function close(): Promise<void> {
    if (phase === 'open' && server) {
      phase = 'closed'
      tellPresence(OFFLINE)
      await settleOnClosing(settings.clock, outlet.idle().then(server.flushed))
      await server.close()
      status.set(false, 'the broker was closed')
    }
    phase = 'closed'
  }

  return {
    start,
    subscribe: (filters, kept = []) => intake.subscribe([...filters, ...kept], phase === 'open'),
    onMessage: intake.onMessage,
    onStatus: status.onChange,
    publish: (...message) => outlet.publish(phase === 'open' ? server?.aedes : undefined, ...message),
    status: status.get,
    counters: () => ({
      ...counters,
      publishQueued: outlet.waiting(),
      publishLimit: settings.maxPublishing,
    }),
    close,
    port,
    innerUrl: () =>
      server?.innerPort === undefined
        ? `mqtt://${settings.host}:${port()}`
        : `mqtt://127.0.0.1:${server.innerPort}`,
  }
}
