import type { Broker } from './broker.ts'
import { createBrokerCounters } from './counters.ts'
import type { Connector } from './externalConnector.ts'
import { createIntake } from './externalIntake.ts'
import { createLink } from './externalLink.ts'
import {
  type ExternalBrokerOptions,
  nameOf,
  readAddress,
  readTlsFiles,
  withDefaults,
} from './externalOptions.ts'
import { createOutlet } from './externalOutlet.ts'
import { OFFLINE } from './presence.ts'
import { settleWithin } from './settleWithin.ts'
import { createSparseLog } from './sparseLog.ts'
import { createStatusBoard } from './statusBoard.ts'
import { createFilterSet } from './topicFilter.ts'

const CLOSE_LIMIT_MS = 2000

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
  const intake = createIntake(clock, counters)
  const filters = createFilterSet()
  const outlet = createOutlet(counters, settings.maxQueuedPublishes)
  const status = createStatusBoard(clock, () => nameOf(options))
  let link: Connector | undefined
  let isClosed = false

  async function start(): Promise<void> {
    const target = { address: readAddress(options), tls: await readTlsFiles(options) }
    if (link || isClosed) throw new Error('external broker: start() was called twice or after close()')
    link = createLink({ ...target, settings, filters, intake, outlet, status, counters, log })
    link.start()
  }

  async function close(): Promise<void> {
    if (isClosed) return
    isClosed = true
    const { presenceTopic: topic } = settings
    if (topic !== undefined && link?.session()) outlet.add({ topic, payload: OFFLINE, retain: true })
    const session = link?.stop()
    if (session) await settleWithin(clock, CLOSE_LIMIT_MS, outlet.idle().then(session.end))
    session?.abandon()
    outlet.giveUp()
    if (link) status.set(false, 'the connection was closed')
  }

  return {
    start,
    subscribe(wanted) {
      if (filters.add(wanted).length > 0) link?.session()?.subscribe(filters.minimal())
    },
    onMessage: intake.onMessage,
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
