import type { Certificate } from '../../certificate.ts'
import type { Clock } from '../../clock.ts'
import { isLoopback } from '../../hosts.ts'
import type { MqttAccount } from './embeddedAccounts.ts'

export interface EmbeddedBrokerOptions {
  clock: Clock
  /** Address to listen on; default "127.0.0.1". Any other than loopback needs `user` and `password`. */
  host?: string
  /** TCP port; default 1883; 0 takes any free one (see `port()`). */
  port?: number
  /** Where given, the port speaks TLS and nothing else. */
  certificate?: Certificate
  /** With a certificate: also a plain port on 127.0.0.1, any free one, for the simulator of the demo; default: none. */
  hasInnerPort?: boolean
  /** Where given, every client must send them. No default. */
  user?: string
  password?: string
  /** Things with rights of their own; with any of them nobody comes in without a password. */
  accounts?: readonly MqttAccount[]
  /** Longest MQTT packet [bytes], header included; default 66 560, which holds the longest payload that is read. */
  maxPacketBytes?: number
  /** Packets of one connection [1/s], as a mean over a second; beyond, its socket is not read for a while; default 20 000. */
  maxPacketsPerSecond?: number
  /** Messages with QoS 2 that one client may have begun and not ended; more end its connection; default 20. */
  maxInflight?: number
  /** Topic filters that one client has, and asks for at once; more end its connection; default 100. */
  maxFilters?: number
  /** Connections of one remote address that have not logged in; default 25. */
  maxUnknown?: number
  /** Connections at a time, whether logged in or not; default 500. */
  maxConnections?: number
  /** The same for one remote address; default 250. */
  maxConnectionsPerAddress?: number
  /** Retained messages kept in memory; default 2000. They are lost at a restart. */
  maxRetained?: number
  /** Bytes of all of them together; default 16 000 000. */
  maxRetainedBytes?: number
  /** Own publishes on their way to clients; more are dropped and counted; default 5000. */
  maxPublishing?: number
  /** Bytes that may wait for one slow client; live messages beyond are left out for it; default 262 144. */
  maxBacklogBytes?: number
  /** Longest time [ms] in which a subscriber may not read before it is cut off; default 15 000. */
  drainTimeoutMs?: number
  /** Longest keep-alive [s] a client may ask for; 0 ("none") is refused too; default 120. */
  keepaliveLimitS?: number
  /** Time [ms] that a client has for its CONNECT; default 10 000. */
  connectTimeoutMs?: number
  /** Topic that says, retained, whether this server is there: "online", and "offline" before it closes; with a server that dies its broker goes too. Default: none. */
  presenceTopic?: string
  /** One line for the operator; default: none. */
  log?: (line: string) => void
}

/** Letters of a password by which strangers on a network are kept out. */
const SHORTEST_PASSWORD = 12

export type EmbeddedSettings = ReturnType<typeof withDefaults>

export function withDefaults(options: EmbeddedBrokerOptions) {
  return {
    host: '127.0.0.1',
    port: 1883,
    certificate: undefined,
    hasInnerPort: false,
    user: undefined,
    password: undefined,
    accounts: [],
    maxPacketBytes: 66_560,
    maxPacketsPerSecond: 20_000,
    maxInflight: 20,
    maxFilters: 100,
    maxUnknown: 25,
    maxConnections: 500,
    maxConnectionsPerAddress: 250,
    maxRetained: 2000,
    maxRetainedBytes: 16_000_000,
    maxPublishing: 5000,
    maxBacklogBytes: 262_144,
    drainTimeoutMs: 15_000,
    keepaliveLimitS: 120,
    connectTimeoutMs: 10_000,
    presenceTopic: undefined,
    log: () => {},
    ...options,
  }
}

/** @throws {Error} when strangers could publish: an address other than loopback without user and password. */
export function refuseOpenDoor({ host, user, password, accounts }: EmbeddedSettings): void {
  if (isLoopback(host)) return
  if (user && password && password.length < SHORTEST_PASSWORD)
    throw new Error(
      `the embedded broker does not listen on ${host} with a password of ${password.length} characters: it could be ` +
        `guessed; give at least ${SHORTEST_PASSWORD}, or listen on 127.0.0.1`,
    )
  if ((user && password) || (accounts.length > 0 && !user && !password)) return
  throw new Error(
    `the embedded broker does not listen on ${host} without a user and a password: anybody there could ` +
      'publish readings; give both, or listen on 127.0.0.1',
  )
}

/** What went wrong on listening, in one sentence that says what to do. */
export function listenFault(error: NodeJS.ErrnoException, { host, port }: EmbeddedSettings): Error {
  const sentences: Record<string, string> = {
    EADDRINUSE: `port ${port} on ${host} is already in use; stop the program that uses it or choose another MQTT port`,
    EACCES: `port ${port} on ${host} may not be used by this user; choose an MQTT port above 1023`,
    EADDRNOTAVAIL: `${host} is not an address of this machine; listen on 127.0.0.1 or on one of its own addresses`,
  }
  return new Error(
    sentences[error.code ?? ''] ?? `cannot listen on ${host}, port ${port}: ${error.message}`,
    {
      cause: error,
    },
  )
}
