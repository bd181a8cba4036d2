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
import type { Arrival } from './externalSession.ts'
import { createLookRound } from './lookRound.ts'
import { createFilterSet, isOfBroker } from './topicFilter.ts'

export type { ExternalBrokerOptions }

/**
 * Any MQTT 3.1.1 or 5 broker, reached over TCP or TLS; MQTT 3.1.1 is spoken, in a durable session MQTT 5 where the broker does.
 *
 * It connects for ever: `start` resolves at once and `status` says why there is no connection. `start` rejects
 * only for an address that is none and for certificate files that cannot be read.
 * Without `durableId` the session is clean: what is published while the connection is down is not delivered later.
 */
export function createExternalBroker(options: ExternalBrokerOptions): Connection {
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

  function take({ topic, payload, retained, resumedAt }: Arrival): void {
    if (isOfBroker(topic)) return
    // A durable session may hold subscriptions of a run before this one, with another plant file.
    if (settings.durableId !== undefined && !filters.matches(topic)) {
      link?.session()?.drop(topic)
      return
    }
    counters.received++
    counters.receivedBytes += payload.length
    messages.call({ topic, payload, retained, receivedAt: clock.now(), resumedAt })
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
    subscribe(wanted, unwanted = []) {
      filters.remove(unwanted)
      const added = filters.add(wanted)
      if (added.length > 0 || unwanted.length > 0) link?.session()?.subscribe(filters.minimal())
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

/** One connection to it. */
export type Connection = Omit<Broker, 'subscribe'> & {
  subscribe(wanted: readonly string[], unwanted?: readonly string[]): void
}

/**
 * An external broker over separate connections: readings come in on one, our own messages go out on the other. On one
 * connection the two wait for each other (the broker's small packets for our delayed acknowledgements and the other
 * way round), which held an over-speed reading back by up to 40 ms.
 *
 * With `durableId` a third one, in a durable session, has the topics whose payloads carry their time. The others stay
 * in a clean session: a number without time that a broker had kept would be taken for the present.
 */
export function createExternalPair({ presenceTopic, durableId, ...options }: ExternalBrokerOptions): Broker {
  const reading = createExternalBroker(options)
  const keeping = durableId === undefined ? undefined : createExternalBroker({ ...options, durableId })
  const inward = keeping ? [reading, keeping] : [reading]
  const status = () =>
    inward.map((one) => one.status()).find(({ connected }) => !connected) ?? reading.status()
  const writing = createExternalBroker({
    ...options,
    ...(presenceTopic === undefined ? {} : { presenceTopic }),
    clientIdPrefix: `${options.clientIdPrefix ?? 'headrace'}-out`,
  })
  const looking = {
    ...options,
    clientIdPrefix: `${options.clientIdPrefix ?? 'headrace'}-look`,
    log: () => {},
  }
  const round = createLookRound(options.clock, () => createExternalBroker(looking))
  return {
    async start() {
      for (const one of [...inward, writing]) await one.start()
      round.look()
    },
    subscribe(filters, kept = []) {
      round.look()
      if (!keeping) return reading.subscribe([...filters, ...kept])
      reading.subscribe(filters, kept)
      keeping.subscribe(kept, filters)
    },
    onMessage(listener) {
      const stops = inward.map((one) => one.onMessage(listener))
      return () => {
        for (const stop of stops) stop()
      }
    },
    onStatus(listener) {
      const stops = inward.map((one) => one.onStatus(() => listener(status())))
      return () => {
        for (const stop of stops) stop()
      }
    },
    onOther: round.onMessage,
    status,
    publish: writing.publish,
    counters() {
      const { published, publishDropped, publishQueued, publishLimit } = writing.counters()
      const read = inward.map((one) => one.counters())
      const sum = (name: 'received' | 'receivedBytes' | 'oversize' | 'reconnects') =>
        read.reduce((all, one) => all + one[name], 0)
      return {
        ...reading.counters(),
        received: sum('received'),
        receivedBytes: sum('receivedBytes'),
        oversize: sum('oversize'),
        reconnects: sum('reconnects'),
        published,
        publishDropped,
        publishQueued,
        publishLimit,
      }
    },
    async close() {
      await Promise.all([...inward, writing, round].map((one) => one.close()))
    },
  }
}
