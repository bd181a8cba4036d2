import { randomBytes } from 'node:crypto'
import type { SparseLog } from '../../sparseLog.ts'
import { type BrokerCounters, ONLINE, type StatusBoard } from './broker.ts'
import type { BrokerAddress, ExternalSettings, TlsFiles } from './externalOptions.ts'
import type { Outlet } from './externalOutlet.ts'
import { openSession, type Session, type SessionOptions } from './externalSession.ts'
import type { FilterSet } from './topicFilter.ts'

/** A connection that lasted at least this long [ms] was a real one: the next pause begins small again. */
const STEADY_MS = 5000
/** Shortest pause [ms] between two attempts, whatever the random share. */
const SHORTEST_PAUSE_MS = 50
const MOST_TOPICS_NAMED = 5

export interface LinkOptions {
  settings: ExternalSettings
  address: BrokerAddress
  tls: TlsFiles
  filters: FilterSet
  onMessage: SessionOptions['onMessage']
  outlet: Outlet
  status: StatusBoard
  counters: BrokerCounters
  log: SparseLog
}

/** Joins sessions, as they come and go, to what lasts: filters, listeners, queue, status and counters. */
export function createLink(options: LinkOptions): Connector {
  const { settings, address, tls, filters, outlet, status, counters, log } = options
  let hasConnected = false
  let version: SessionOptions['version'] = settings.durableId === undefined ? 4 : 5
  return createConnector({
    settings,
    open: (on) =>
      openSession({
        ...on,
        ...reports(options),
        address,
        tls,
        settings,
        version,
        clientId: settings.durableId ?? newId(settings),
        // With nothing to keep, what a session of earlier kept is given up.
        isDurable: settings.durableId !== undefined && filters.minimal().length > 0,
        onVersionRefused() {
          version = 4
        },
      }),
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

function reports({ address, settings, onMessage, status, counters, log }: LinkOptions): Reports {
  return {
    onMessage,
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

interface ConnectorOptions {
  settings: ExternalSettings
  open: (on: Pick<SessionOptions, 'onConnected' | 'onClosed'>) => Session
  onConnected: (session: Session) => void
  onLost: (fault: string) => void
}

/** Keeps one session alive: after each end a new one, after a random and growing pause. */
export interface Connector {
  start(): void
  /** The connected session. */
  session(): Session | undefined
  /** No further attempts; @returns the session that was connected. */
  stop(): Session | undefined
}

/** The n-th pause [ms], n from 0: a random share of min(longest, shortest · 2ⁿ), so that clients do not return all at once. */
export function pauseBefore(
  attempt: number,
  { reconnectMinMs, reconnectMaxMs, random }: PauseOptions,
): number {
  const longest = Math.min(reconnectMaxMs, reconnectMinMs * 2 ** Math.min(attempt, 30))
  return Math.max(SHORTEST_PAUSE_MS, longest * (0.5 + 0.5 * random()))
}

type PauseOptions = Pick<ExternalSettings, 'reconnectMinMs' | 'reconnectMaxMs' | 'random'>

function createConnector({ settings, open, onConnected, onLost }: ConnectorOptions): Connector {
  const { clock, watchdogMs } = settings
  let session: Session | undefined
  let connectedAt: number | undefined
  let failures = 0
  let isStopped = false
  /** Cancels what is to come: the next attempt, or giving up the present one. */
  let cancel = () => {}

  function attempt(): void {
    // Seen after restarts of brokers: neither connected nor a fault, for ever.
    cancel = clock.after(watchdogMs, () => {
      session?.abandon()
      retry(`no connection and no fault for ${watchdogMs / 1000} s; the attempt was given up`)
    })
    session = open({
      onConnected() {
        cancel()
        connectedAt = clock.mono()
        onConnected(session!)
      },
      onClosed: retry,
    })
  }

  function retry(fault: string): void {
    cancel()
    if (connectedAt !== undefined && clock.mono() - connectedAt >= STEADY_MS) failures = 0
    session = undefined
    connectedAt = undefined
    if (!isStopped) cancel = clock.after(pauseBefore(failures++, settings), attempt)
    onLost(fault)
  }

  return {
    start: attempt,
    session: () => (connectedAt === undefined ? undefined : session),
    stop() {
      isStopped = true
      cancel()
      if (connectedAt === undefined) session?.abandon()
      return connectedAt === undefined ? undefined : session
    },
  }
}
