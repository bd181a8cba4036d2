import type { ExternalSettings } from './externalOptions.ts'
import type { Session, SessionOptions } from './externalSession.ts'

/** A connection that lasted at least this long [ms] was a real one: the next pause begins small again. */
const STEADY_MS = 5000
const WATCH_EVERY_MS = 5000
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
  const { clock } = settings
  let session: Session | undefined
  let connectedAt: number | undefined
  let begunAt = 0
  let failures = 0
  let isStopped = false
  let cancelPause: (() => void) | undefined
  let stopWatching: (() => void) | undefined

  function attempt(): void {
    cancelPause = undefined
    begunAt = clock.mono()
    session = open({
      onConnected() {
        connectedAt = clock.mono()
        onConnected(session!)
      },
      onClosed: retry,
    })
  }

  function retry(fault: string): void {
    if (connectedAt !== undefined && clock.mono() - connectedAt >= STEADY_MS) failures = 0
    session = undefined
    connectedAt = undefined
    if (!isStopped) cancelPause = clock.after(pauseBefore(failures++, settings), attempt)
    onLost(fault)
  }

  function watch(): void {
    const isStuck = session && connectedAt === undefined && clock.mono() - begunAt > settings.watchdogMs
    if (!isStuck) return
    session?.abandon()
    retry(`no connection and no fault for ${settings.watchdogMs / 1000} s; the attempt was given up`)
  }

  return {
    start() {
      attempt()
      stopWatching = clock.every(WATCH_EVERY_MS, watch)
    },
    session: () => (connectedAt === undefined ? undefined : session),
    stop() {
      isStopped = true
      cancelPause?.()
      stopWatching?.()
      if (connectedAt !== undefined) return session
      session?.abandon()
      return undefined
    },
  }
}
