import { readFile } from 'node:fs/promises'
import type { Clock } from '../../clock.ts'

export interface ExternalBrokerOptions {
  clock: Clock
  /** mqtt://host:1883 or mqtts://host:8883 (TLS); may carry user and password, which are shown nowhere. */
  url: string
  user?: string
  password?: string
  /** File with the certificates (PEM) that the broker's one is checked against; default: the public ones. */
  caFile?: string
  /** Name that the broker's certificate must bear; default: the host of the URL. */
  serverName?: string
  /**
   * Client id of a durable session: the broker keeps what is sent with QoS 1 while we are away. The same at every start,
   * and of no other program. Default: a clean session.
   */
  durableId?: string
  /** Beginning of the client id, to which random letters are added; default "headrace". */
  clientIdPrefix?: string
  /** Longest MQTT packet [bytes]; longer ones are left out and counted; default 262 144. */
  maxPacketBytes?: number
  /** Own publishes that wait while the broker is away; the oldest is dropped beyond that; default 1000. */
  maxQueuedPublishes?: number
  /** Time [ms] for connecting until the broker's answer; default 10 000. */
  connectTimeoutMs?: number
  /** Keep-alive [s]: a dead line is noticed after at most 1.5 times that; default 15. */
  keepaliveS?: number
  /** Pause [ms] before the second attempt; doubles up to `reconnectMaxMs`, each a random share; default 500. */
  reconnectMinMs?: number
  /** Longest pause [ms] between attempts; default 30 000. */
  reconnectMaxMs?: number
  /** An attempt that is neither connected nor over after this time [ms] is given up; default 60 000. */
  watchdogMs?: number
  /** Uniform in 0 … 1, for the pauses; default Math.random. */
  random?: () => number
  /** Topic that says, retained, whether this server is there: "online", and "offline" by its own word or as its last will. Default: none. */
  presenceTopic?: string
  /** One line for the operator; default: none. */
  log?: (line: string) => void
}

export type ExternalSettings = ReturnType<typeof withDefaults>

export function withDefaults(options: ExternalBrokerOptions) {
  return {
    durableId: undefined,
    clientIdPrefix: 'headrace',
    maxPacketBytes: 262_144,
    maxQueuedPublishes: 1000,
    connectTimeoutMs: 10_000,
    keepaliveS: 15,
    reconnectMinMs: 500,
    reconnectMaxMs: 30_000,
    watchdogMs: 60_000,
    random: Math.random,
    presenceTopic: undefined,
    log: () => {},
    ...options,
  }
}

export interface BrokerAddress {
  host: string
  port: number
  isSecure: boolean
  user: string | undefined
  password: string | undefined
  /** Without credentials. */
  name: string
}

const PORTS: Record<string, number> = { 'mqtt:': 1883, 'mqtts:': 8883 }

/** @throws {Error} for anything but mqtt:// and mqtts://; the address itself is not repeated, it may hold a password. */
export function readAddress({ url, user, password }: ExternalBrokerOptions): BrokerAddress {
  const parsed = URL.canParse(url) ? new URL(url) : undefined
  const usualPort = PORTS[parsed?.protocol ?? '']
  if (!parsed || usualPort === undefined || parsed.hostname === '')
    throw new Error('the broker address is not valid; expected mqtt://HOST:PORT or mqtts://HOST:PORT')
  const port = parsed.port === '' ? usualPort : Number(parsed.port)
  return {
    // an IPv6 address stands in brackets in a URL only
    host: parsed.hostname.replace(/^\[|\]$/g, ''),
    port,
    isSecure: parsed.protocol === 'mqtts:',
    user: user ?? decoded(parsed.username),
    password: password ?? decoded(parsed.password),
    name: `${parsed.protocol}//${parsed.hostname}:${port}`,
  }
}

/** What people call the broker, also where the address is not valid. */
export function nameOf(options: ExternalBrokerOptions): string {
  try {
    return readAddress(options).name
  } catch {
    return 'external broker'
  }
}

export interface TlsFiles {
  ca?: Buffer
}

/** @throws {Error} naming the file that cannot be read or is not PEM. */
export async function readTlsFiles({ caFile }: ExternalBrokerOptions): Promise<TlsFiles> {
  return caFile === undefined ? {} : { ca: await readPem('CA file', caFile) }
}

async function readPem(what: string, path: string): Promise<Buffer> {
  const content = await readFile(path).catch((error: NodeJS.ErrnoException) => {
    throw new Error(`${what} "${path}" cannot be read: ${error.code}`)
  })
  if (!content.includes('-----BEGIN '))
    throw new Error(`${what} "${path}" is not PEM: expected a line "-----BEGIN …"`)
  return content
}

function decoded(text: string): string | undefined {
  if (text === '') return undefined
  try {
    return decodeURIComponent(text)
  } catch {
    return text
  }
}
