import type { Clock } from '../../clock.ts'
import { createListeners } from '../../listeners.ts'

/** Where MQTT packets come from: the embedded broker or an external one, behind one interface. */
export interface Message {
  topic: string
  payload: Uint8Array
  /** True: the broker kept it from earlier, so its age is unknown. */
  retained: boolean
  /** Wall clock at arrival [ms UTC]. */
  receivedAt: number
  /** When the session was taken up again in which it came [ms UTC]: the broker may have kept it until then. */
  resumedAt?: number | undefined
  /** Name of the client that sent it, where the broker tells. */
  sender?: string | undefined
}

export interface BrokerStatus {
  connected: boolean
  /** For people; never with credentials. */
  name: string
  /** When `connected` last changed [ms UTC]; null before the first connection. */
  since: number | null
  /** Why not connected, in one sentence. */
  detail?: string
}

export interface BrokerCounters {
  received: number
  receivedBytes: number
  /** Packets refused for size before decoding. */
  oversize: number
  published: number
  /** Own publishes dropped because the broker was away or the queue full. */
  publishDropped: number
  reconnects: number
  /** Own publishes that wait, and how many may. */
  publishQueued: number
  publishLimit: number
  /** Messages left out for clients of the embedded broker that read too slowly. */
  forwardDropped: number
  /** Connections that the embedded broker closed before TLS: there were too many new ones. */
  handshakesRefused: number
}

export interface Broker {
  /** Starts listening or connecting. Rejects only on errors that will not heal (port taken, bad option). */
  start(): Promise<void>
  /**
   * MQTT topic filters; may be called before `start`. Re-subscribed after every reconnect.
   * @param kept Topics whose payloads carry their time: a broker that can, delivers later what was sent meanwhile.
   */
  subscribe(filters: readonly string[], kept?: readonly string[]): void
  /** Called synchronously per packet; must not throw. Set before `start`. Returns the function that unsubscribes. */
  onMessage(listener: (message: Message) => void): () => void
  /** Called, like `onMessage`, with samples of whatever else is sent to a broker that is asked for some topics only. */
  onOther?(listener: (message: Message) => void): () => void
  onStatus(listener: (status: BrokerStatus) => void): () => void
  publish(topic: string, payload: string | Uint8Array, options?: { retain?: boolean }): void
  status(): BrokerStatus
  counters(): BrokerCounters
  /** Resolves when everything queued for sending is out or 2 s have gone by. */
  close(): Promise<void>
}

export function createBrokerCounters(): BrokerCounters {
  return {
    received: 0,
    receivedBytes: 0,
    oversize: 0,
    published: 0,
    publishDropped: 0,
    reconnects: 0,
    publishQueued: 0,
    publishLimit: 0,
    forwardDropped: 0,
    handshakesRefused: 0,
  }
}

/** Says, retained, whether this server is there; also the will of the connection to an external broker. */
export const PRESENCE_TOPIC = 'headrace/status'
/** The words under it. */
export const ONLINE = 'online'
export const OFFLINE = 'offline'

/** The present status of a broker and those who want to hear of changes. */
export interface StatusBoard {
  get(): BrokerStatus
  /** Tells the listeners only when something is different from before. */
  set(connected: boolean, detail?: string): void
  onChange(listener: (status: BrokerStatus) => void): () => void
}

/** @param name for people, never with credentials; a function because the embedded broker's port is known late. */
export function createStatusBoard(clock: Clock, name: () => string): StatusBoard {
  const listeners = createListeners<BrokerStatus>()
  let connected = false
  let since: number | null = null
  let detail: string | undefined
  const get = (): BrokerStatus => ({
    connected,
    name: name(),
    since,
    ...(detail === undefined ? {} : { detail }),
  })
  return {
    get,
    set(nowConnected, nowDetail) {
      const isChange = nowConnected !== connected
      if (!isChange && nowDetail === detail) return
      if (isChange) since = clock.now()
      connected = nowConnected
      detail = nowDetail
      listeners.call(get())
    },
    onChange: listeners.add,
  }
}

const CLOSE_LIMIT_MS = 2000

/** Resolves when `work` is settled, well or badly, or when a broker has taken long enough to close. */
export function settleOnClosing(clock: Clock, work: Promise<unknown>): Promise<void> {
  return new Promise((resolve) => {
    const cancel = clock.after(CLOSE_LIMIT_MS, resolve)
    const done = () => {
      cancel()
      resolve()
    }
    work.then(done, done)
  })
}
