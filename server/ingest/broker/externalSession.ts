import { connect as connectTcp, isIP, type Socket } from 'node:net'
import { connect as connectTls } from 'node:tls'
import { type IClientOptions, MqttClient } from 'mqtt'
import { type Message, OFFLINE } from './broker.ts'
import type { BrokerAddress, ExternalSettings, TlsFiles } from './externalOptions.ts'
import { createPacketGuard, guardSocket, type OversizePacket } from './packetGuard.ts'

const SUBSCRIBE_BATCH = 100
/** So long [s] a broker of MQTT 5 shall keep a durable session that nobody takes up again: a week. */
const KEPT_S = 7 * 86_400
/** "Unacceptable protocol version", MQTT 3.1.1 § 3.2.2.3; "unsupported protocol version", MQTT 5 § 3.2.2.2. */
const VERSION_REFUSED = [1, 132]
/** SUBACK return code "failure", MQTT 3.1.1 § 3.9.3; in MQTT 5 all from here on are failures, § 3.9.3. */
const REFUSED = 128

export interface SessionOptions {
  address: BrokerAddress
  tls: TlsFiles
  settings: ExternalSettings
  clientId: string
  /** MQTT 3.1.1 or 5. */
  version: 4 | 5
  /** Whether the broker keeps for us what is sent with QoS 1 while we are away. */
  isDurable: boolean
  /** The broker does not speak this version, or ended the connection without a word. */
  onVersionRefused: () => void
  onConnected: () => void
  /** Called at most once; nothing is called after it. */
  onClosed: (fault: string) => void
  onMessage: (arrival: Arrival) => void
  /** Filters that the broker does not grant, e.g. because of its access rules. */
  onRefused: (filters: string[]) => void
  /** A packet that was left out for its size. */
  onOversize: (packet: OversizePacket) => void
}

/** What came from the broker. */
export type Arrival = Pick<Message, 'topic' | 'payload' | 'retained' | 'resumedAt'>

/** One own message. */
export interface Outgoing {
  topic: string
  payload: string | Uint8Array
  retain: boolean
}

/** One connection, from the first attempt to its end. A new one is made for each further attempt. */
export interface Session {
  /** Brings the broker's subscriptions to exactly these filters. */
  subscribe(filters: readonly string[]): void
  /** Ends a subscription of an earlier connection of a durable session. */
  drop(topic: string): void
  /** @param sent called when the message is written out. */
  publish(message: Outgoing, sent: () => void): void
  /** Says goodbye and closes; resolves when closed. */
  end(): Promise<void>
  /** Drops the connection without a word; `onClosed` is not called. */
  abandon(): void
}

export function openSession(options: SessionOptions): Session {
  let fault: string | undefined
  let isOver = false
  let isConnected = false
  let resumedAt: number | undefined
  const subscribed = new Set<string>()
  const dropped = new Set<string>()
  const client = new MqttClient(() => openSocket(options), clientOptions(options))
  const unlessOver = (task: () => void) => {
    if (!isOver) task()
  }
  // Handlers first, then connect: retained messages follow on the heels of the SUBACK. The client's own
  // `handleMessage` calls back at once.
  client.on('message', (topic, payload, packet) =>
    unlessOver(() => options.onMessage({ topic, payload, retained: packet.retain, resumedAt })),
  )
  client.on('packetreceive', (packet) => {
    // The library would keep it until the broker releases it, which it may never do. We ask for no more than 1.
    if (packet.cmd !== 'publish' || packet.qos !== 2) return
    fault = 'the broker sent a message with QoS 2, for which nobody asked'
    client.stream.destroy()
  })
  client.on('connect', ({ sessionPresent }) => {
    isConnected = true
    if (sessionPresent) resumedAt = options.settings.clock.now()
    unlessOver(options.onConnected)
  })
  client.on('error', (error) => {
    fault = connectionFault(error)
    if (VERSION_REFUSED.includes(Number((error as { code?: unknown }).code))) options.onVersionRefused()
  })
  client.on('close', () =>
    unlessOver(() => {
      isOver = true
      if (!isConnected && fault === undefined) options.onVersionRefused()
      options.onClosed(fault ?? 'the connection was closed')
    }),
  )
  client.connect()
  return {
    subscribe: (filters) => settleSubscriptions({ ...options, client, subscribed }, filters),
    drop(topic) {
      if (dropped.has(topic)) return
      dropped.add(topic)
      client.unsubscribe(topic, () => {})
    },
    publish: ({ topic, payload, retain }, sent) =>
      client.publish(topic, typeof payload === 'string' ? payload : Buffer.from(payload), { retain }, sent),
    end: () =>
      new Promise((resolve) => {
        isOver = true
        client.end(false, {}, () => resolve())
      }),
    abandon() {
      isOver = true
      client.end(true)
    },
  }
}

function clientOptions(options: SessionOptions): IClientOptions {
  const { address, settings, clientId, version, isDurable } = options
  return {
    protocolVersion: version,
    // What a broker keeps for us while we are away carries no time of arrival: without a time of its own it would be
    // taken for the present when it comes.
    clean: !isDurable,
    ...(isDurable && version === 5 ? { properties: { sessionExpiryInterval: KEPT_S } } : {}),
    clientId,
    ...(address.user === undefined ? {} : { username: address.user }),
    ...(address.password === undefined ? {} : { password: address.password }),
    keepalive: settings.keepaliveS,
    ...(settings.presenceTopic === undefined ? {} : { will: willOf(settings.presenceTopic) }),
    connectTimeout: settings.connectTimeoutMs,
    // Reconnecting and subscribing again is done by externalLink.ts, with a new client each time.
    reconnectPeriod: 0,
    resubscribe: false,
    queueQoSZero: false,
    manualConnect: true,
  }
}

/** The broker says it for us when we are gone without a goodbye (MQTT 3.1.1 § 3.1.2.5). */
function willOf(topic: string): NonNullable<IClientOptions['will']> {
  return { topic, payload: Buffer.from(OFFLINE), qos: 1, retain: true }
}

interface Subscriber extends Pick<SessionOptions, 'isDurable' | 'onRefused'> {
  client: MqttClient
  subscribed: Set<string>
}

/**
 * QoS 0 in a clean session, which repeats nothing after a cut anyway: QoS 1 would add an acknowledgement per message
 * and no reading more. Of a durable session a broker keeps only what was asked for with QoS 1.
 */
function settleSubscriptions(
  { client, subscribed, isDurable, onRefused }: Subscriber,
  filters: readonly string[],
): void {
  const added = filters.filter((one) => !subscribed.has(one))
  const dropped = [...subscribed].filter((one) => !filters.includes(one))
  for (const one of added) subscribed.add(one)
  for (const one of dropped) subscribed.delete(one)
  for (let i = 0; i < added.length; i += SUBSCRIBE_BATCH) {
    const batch = added.slice(i, i + SUBSCRIBE_BATCH)
    client.subscribe([...batch], { qos: isDurable ? 1 : 0 }, (_error, _subscriptions, suback) => {
      const granted = (suback?.granted ?? []) as number[]
      const refused = batch.filter((_filter, nth) => granted[nth]! >= REFUSED)
      if (refused.length > 0) onRefused(refused)
    })
  }
  if (dropped.length > 0) client.unsubscribe(dropped, () => {})
}

function openSocket({ address, tls, settings, onOversize }: SessionOptions): Socket {
  const { host, port } = address
  const servername = settings.serverName ?? (isIP(host) === 0 ? host : undefined)
  const socket = address.isSecure
    ? connectTls({ host, port, ...tls, minVersion: 'TLSv1.2', ...(servername ? { servername } : {}) })
    : connectTcp({ host, port, noDelay: true })
  const guard = createPacketGuard(settings.maxPacketBytes, (packet) => {
    onOversize(packet)
    if (!packet.isSkippable) socket.destroy(new Error('the broker sent a packet that is too long'))
  })
  guardSocket(socket, guard)
  return socket
}

/** What an operator can do about a connection that failed; codes of Node.js (system, TLS) and of MQTT 3.1.1 § 3.2.2.3. */
const SENTENCES: Record<string, string> = {
  ECONNREFUSED: 'nothing answers on that port: is the broker running?',
  ENOTFOUND: 'the host name is not known',
  EAI_AGAIN: 'the host name could not be looked up: no network or no name server',
  EHOSTUNREACH: 'the host cannot be reached',
  ENETUNREACH: 'the network cannot be reached',
  ETIMEDOUT: 'the host does not answer',
  ECONNRESET: 'the connection was cut',
  EPIPE: 'the connection was cut',
  '1': 'the broker does not speak MQTT 3.1.1',
  '2': 'the broker refused the client id',
  '3': 'the broker is not available at present',
  '4': 'the broker refused the user name or password',
  '5': 'the broker refused the user name or password (not authorized)',
  DEPTH_ZERO_SELF_SIGNED_CERT: 'its certificate is not trusted: give the CA file that signed it',
  SELF_SIGNED_CERT_IN_CHAIN: 'its certificate is not trusted: give the CA file that signed it',
  UNABLE_TO_VERIFY_LEAF_SIGNATURE: 'its certificate is not trusted: give the CA file that signed it',
  UNABLE_TO_GET_ISSUER_CERT_LOCALLY: 'its certificate is not trusted: give the CA file that signed it',
  CERT_HAS_EXPIRED: 'its certificate has expired',
  ERR_TLS_CERT_ALTNAME_INVALID: 'its certificate is for another host name',
}

/** One sentence for the operator; never with an address that could hold a password. */
export function connectionFault(error: Error & { code?: string | number }): string {
  if (error.message === 'connack timeout') return 'connected, but the broker did not answer'
  return SENTENCES[String(error.code)] ?? (error.message || String(error.code ?? 'unknown fault'))
}
