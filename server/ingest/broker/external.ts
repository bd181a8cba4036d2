import { createListeners } from '../../listeners.ts'
import { createSparseLog } from '../../sparseLog.ts'
import {
  type Broker,
  createBrokerCounters,
  createStatusBoard,
  type Message,
  OFFLINE,
  settleOnClosing,
} from './broker.ts'
import { type Connector, createLink } from './externalLink.ts'
import {
  type ExternalBrokerOptions,
  nameOf,
  readAddress,
  readTlsFiles,
  withDefaults,
} from './externalOptions.ts'
import { createOutlet } from './externalOutlet.ts'
import { createFilterSet, isOfBroker } from './topicFilter.ts'

export type { ExternalBrokerOptions }

/**
 * Any MQTT 3.1.1 or 5 broker, reached over TCP or TLS; MQTT 3.1.1 is spoken.
 *
 * It connects for ever: `start` resolves at once and `status` says why there is no connection. `start` rejects
 * only for an address that is none and for certificate files that cannot be read.
 * Sessions are clean: what is published while the connection is down is not delivered later.
 */
export function createExternalBroker(options: ExternalBrokerOptions): Broker {
  const settings = withDefaults(options)
  const { clock } = settings
  const log = createSparseLog(settings.log, clock)
  const counters = createBrokerCounters()
  const messages = createListeners<Message>()
  const filters = createFilterSet()
  const outlet = createOutlet(counters, settings.maxQueuedPublishes)
  const status = createStatusBoard(clock, () => nameOf(options))
  let link: Connector | undefined
  let isClosed = false

  function take(topic: string, payload: Uint8Array, retained: boolean): void {
    if (isOfBroker(topic)) return
    counters.received++
    counters.receivedBytes += payload.length
    messages.call({ topic, payload, retained, receivedAt: clock.now() })
  }

  async function start(): Promise<void> {
    const target = { address: readAddress(options), tls: await readTlsFiles(options) }
    if (link || isClosed) throw new Error('external broker: start() was called twice or after close()')
    link = createLink({ ...target, settings, filters, onMessage: take, outlet, status, counters, log })
    link.start()
  }

  async function close(): Promise<void> {
    if (isClosed) return
    isClosed = true
    const { presenceTopic: topic } = settings
    if (topic !== undefined && link?.session()) outlet.add({ topic, payload: OFFLINE, retain: true })
    const session = link?.stop()
    if (session) await settleOnClosing(clock, outlet.idle().then(session.end))
    session?.abandon()
    outlet.giveUp()
    if (link) status.set(false, 'the connection was closed')
  }

  return {
    start,
    subscribe(wanted) {
      if (filters.add(wanted).length > 0) link?.session()?.subscribe(filters.minimal())
    },
    onMessage: messages.add,
    onStatus: status.onChange,
    publish(topic, payload, { retain = false } = {}) {
      if (isClosed) counters.publishDropped++
      else outlet.add({ topic, payload, retain })
    },
    status: status.get,
    counters: () => ({
      ...counters,
      publishQueued: outlet.waiting(),
      publishLimit: settings.maxQueuedPublishes,
    }),
    close,
  }
}

/**
 * An external broker over two connections: readings come in on one, our own messages go out on the other. On one
 * connection the two wait for each other (the broker's small packets for our delayed acknowledgements and the other
 * way round), which held an over-speed reading back by up to 40 ms.
 */
export function createExternalPair({ presenceTopic, ...options }: ExternalBrokerOptions): Broker {
  const reading = createExternalBroker(options)
  const writing = createExternalBroker({
    ...options,
    ...(presenceTopic === undefined ? {} : { presenceTopic }),
    clientIdPrefix: `${options.clientIdPrefix ?? 'headrace'}-out`,
  })
  return {
    ...reading,
    async start() {
      await reading.start()
      await writing.start()
    },
    publish: writing.publish,
    counters() {
      const { published, publishDropped, publishQueued, publishLimit } = writing.counters()
      return { ...reading.counters(), published, publishDropped, publishQueued, publishLimit }
    },
    async close() {
      await Promise.all([reading.close(), writing.close()])
    },
  }
}
