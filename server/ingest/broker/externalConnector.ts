import type { ExternalSettings } from './externalOptions.ts'
import type { Session, SessionOptions } from './externalSession.ts'

/** A connection that lasted at least this long [ms] was a real one: the next pause begins small again. */
const STEADY_MS = 5000
/** Shortest pause [ms] between two attempts, whatever the random share. */
const SHORTEST_PAUSE_MS = 50

export interface ConnectorOptions {
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

export function createConnector({ settings, open, onConnected, onLost }: ConnectorOptions): Connector {
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
