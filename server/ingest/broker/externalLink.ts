import { randomBytes } from 'node:crypto'
import type { BrokerCounters } from './broker.ts'
import { type Connector, createConnector } from './externalConnector.ts'
import type { Intake } from './externalIntake.ts'
import type { BrokerAddress, ExternalSettings, TlsFiles } from './externalOptions.ts'
import type { Outlet } from './externalOutlet.ts'
import { openSession, type SessionOptions } from './externalSession.ts'
import { ONLINE } from './presence.ts'
import type { SparseLog } from './sparseLog.ts'
import type { StatusBoard } from './statusBoard.ts'
import type { FilterSet } from './topicFilter.ts'

const MOST_TOPICS_NAMED = 5

export interface LinkOptions {
  settings: ExternalSettings
  address: BrokerAddress
  tls: TlsFiles
  filters: FilterSet
  intake: Intake
  outlet: Outlet
  status: StatusBoard
  counters: BrokerCounters
  log: SparseLog
}

/** Joins sessions, as they come and go, to what lasts: filters, listeners, queue, status and counters. */
export function createLink(options: LinkOptions): Connector {
  const { settings, address, tls, filters, outlet, status, counters, log } = options
  let hasConnected = false
  return createConnector({
    settings,
    open: (on) =>
      openSession({ ...on, ...reports(options), address, tls, settings, clientId: newId(settings) }),
    onConnected(session) {
      if (hasConnected) counters.reconnects++
      hasConnected = true
      status.set(true)
      // Each time anew: a broker may have forgotten everything.
      const wanted = filters.minimal()
      if (wanted.length > 0) session.subscribe(wanted)
      const { presenceTopic: topic } = settings
      if (topic !== undefined) outlet.add({ topic, payload: ONLINE, retain: true })
      outlet.useSession(session)
    },
    onLost(fault) {
      outlet.lostSession()
      status.set(false, fault)
      log('lost', `broker ${address.name}: ${fault}`)
    },
  })
}

function reports({ address, settings, intake, status, counters, log }: LinkOptions): Reports {
  return {
    onMessage: intake.take,
    onRefused(refused) {
      const named = refused.slice(0, MOST_TOPICS_NAMED).join(', ')
      const sentence = `the broker does not allow this user to read ${named} (${refused.length} in all)`
      status.set(true, sentence)
      log('refused', `broker ${address.name}: ${sentence}`)
    },
    onOversize(packet) {
      counters.oversize++
      const topic = packet.topic === undefined ? '' : ` from topic "${packet.topic.slice(0, 200)}"`
      const line = `a packet of ${packet.bytes} bytes${topic} was left out, at most ${settings.maxPacketBytes} are taken`
      log('oversize', `broker ${address.name}: ${line}`)
    },
  }
}

type Reports = Pick<SessionOptions, 'onMessage' | 'onRefused' | 'onOversize'>

/** Random: two programs with one id would throw each other out for ever. */
function newId({ clientIdPrefix }: ExternalSettings): string {
  return `${clientIdPrefix}-${randomBytes(6).toString('hex')}`
}
