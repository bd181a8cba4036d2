import type { Aedes, AedesOptions, AuthenticateError, Client, ConnectPacket, PublishPacket } from 'aedes'
import { createAllowances } from '../../allowance.ts'
import type { Clock } from '../../clock.ts'
import { createCounts } from '../../counts.ts'
import { printable } from '../../printable.ts'
import type { SparseLog } from '../../sparseLog.ts'
import { createDoorkeeper, isUnder, type MqttRights } from './embeddedAccounts.ts'
import type { EmbeddedSettings } from './embeddedOptions.ts'
import { createSlowReaders } from './slowReaders.ts'

const LONGEST_TOPIC = 512
const MOST_LEVELS = 32
/** Slows down guessing of passwords. */
const REFUSAL_DELAY_MS = 500
/** CONNACK return codes, MQTT 3.1.1 § 3.2.2.3. */
const BAD_IDENTIFIER = 2
const BAD_USER_OR_PASSWORD = 4
/** A client that sent something within this long [ms] is there. */
const ALIVE_MS = 5000

export interface AccessOptions {
  clock: Clock
  settings: EmbeddedSettings
  log: SparseLog
  /** Told of each retained message of a client. */
  keepRetained: (topic: string, payload: Buffer) => void
  door: {
    /** Told of the connection of each client that has logged in. */
    known(connection: object): void
    /** Time [ms] since something came on it. */
    silentMs(connection: object): number
    clientCalled(id: string): Client | undefined
  }
  /** Called for each message that is left out for a client which reads too slowly. */
  onLeftOut: () => void
}

/** Who may do what at the embedded broker; aedes by itself lets everybody do everything. */
export function accessHooks({
  clock,
  settings,
  log,
  keepRetained,
  door,
  onLeftOut,
}: AccessOptions): AedesOptions {
  const doorkeeper = createDoorkeeper(settings, clock.mono)
  const rightsOf = new WeakMap<Client, MqttRights>()
  const userOf = new WeakMap<Client, string>()
  const perUser = createCounts<string>()
  const filters = createAllowances('', { burst: settings.maxFilters, perSecond: 10 }, clock.mono)
  const keepsUp = createSlowReaders({ clock, settings, log, onLeftOut, nameOf })

  /** Why one whose password was right is not let in. */
  function faultOf(client: Client, user: string): string | undefined {
    if (perUser.of(user) >= settings.maxConnections / 2) return `"${shown(user)}" has half of all connections`
    const other = door.clientCalled(client.id)
    if (!other) return undefined
    if (userOf.get(other) !== user) return 'another user has a client of this name'
    // It may have come back from elsewhere; whoever is still sending was not it.
    const isElsewhere = addressOf(other) !== addressOf(client)
    return isElsewhere && door.silentMs(other.conn) < ALIVE_MS
      ? `one of this name at ${addressOf(other)} sends`
      : undefined
  }

  function keepUser(client: Client, user: string): void {
    userOf.set(client, user)
    perUser.add(user, 1)
    client.conn.once('close', () => perUser.add(user, -1))
  }

  return {
    preConnect(client, packet, done) {
      const who = `client "${shown(packet.clientId)}" at ${addressOf(client)}`
      const remark = connectRemark(packet, settings)
      if (remark) log(remark.topic, `broker: ${who} ${remark.text}`)
      // Nobody needs a queue for an absent client here, and aedes would keep it in memory without a limit.
      packet.clean = true
      done(null, true)
    },
    // biome-ignore lint/complexity/useMaxParams: the signature is that of aedes
    authenticate(client, user, password, done) {
      const rights = doorkeeper.rightsOf({
        address: addressOf(client),
        clientId: client.id,
        user: user ?? '',
        password: password ?? '',
      })
      if (rights) {
        const name = user ?? ''
        const fault = faultOf(client, name)
        if (fault !== undefined) {
          log('taken', `broker: ${nameOf(client)} was refused: ${fault}`)
          return done(refusal('client identifier in use', BAD_IDENTIFIER), null)
        }
        rightsOf.set(client, rights)
        keepUser(client, name)
        door.known(client.conn)
        return done(null, true)
      }
      log('login', `broker: a client at ${addressOf(client)} sent a wrong user name or password`)
      const error = refusal('wrong user name or password', BAD_USER_OR_PASSWORD)
      clock.after(REFUSAL_DELAY_MS, () => done(error, null))
    },
    // Wills come through here too.
    authorizePublish(client, packet, done) {
      const fault = topicFault(packet.topic)
      if (fault !== undefined) {
        const who = client ? nameOf(client) : 'a last will'
        log('topic', `broker: ${who} was cut off: it published to a topic ${fault}`)
        return done(new Error(`topic ${fault}`))
      }
      if (isOwnTopic(packet.topic)) {
        const who = client ? nameOf(client) : 'a last will'
        log('own', `broker: ${who} was cut off: only this server publishes to "${shown(packet.topic)}"`)
        return done(new Error('only the server publishes to this topic'))
      }
      const rights = client ? rightsOf.get(client) : undefined
      if (!rights || !isUnder(packet.topic, rights.publish)) {
        log(
          'rights',
          `broker: ${client ? nameOf(client) : 'a last will'} was cut off: it may not publish to "${shown(packet.topic)}"`,
        )
        return done(new Error('no right to publish to this topic'))
      }
      if (packet.retain) settleRetain(packet, keepRetained)
      done(null)
    },
    authorizeSubscribe(client, subscription, done) {
      const held = Object.keys((client as unknown as { subscriptions: object }).subscriptions).length
      if (held >= settings.maxFilters || !filters.take(client.id)) {
        log(
          'filters',
          `broker: ${nameOf(client)} was cut off: it asked for more than ${settings.maxFilters} filters`,
        )
        client.close()
        return done(new Error('too many filters'))
      }
      // null refuses this one filter (SUBACK 0x80)
      const mayRead = isUnder(subscription.topic, rightsOf.get(client)?.subscribe ?? [])
      done(null, mayRead && topicFault(subscription.topic) === undefined ? subscription : null)
    },
    authorizeForward: (client, packet) =>
      packet.topic.startsWith('$') || !(packet.retain || keepsUp(client)) ? null : packet,
  }
}

/** What the operator of a client should know when it is refused, or gets less than it asked for. */
function connectRemark(
  { keepalive = 0, protocolVersion, clean }: ConnectPacket,
  { keepaliveLimitS }: EmbeddedSettings,
): { topic: string; text: string } | undefined {
  if (protocolVersion === 5)
    return {
      topic: 'mqtt5',
      text:
        'speaks MQTT 5, the embedded broker speaks MQTT 3.1.1: set the protocol version to 3.1.1 (4) ' +
        'in that client',
    }
  if (keepalive === 0 || keepalive > keepaliveLimitS)
    return {
      topic: 'keepalive',
      text: `was refused: its keep-alive is ${keepalive} s; set it to 1 … ${keepaliveLimitS} s`,
    }
  if (clean === false)
    return {
      topic: 'session',
      text: 'asked for a persistent session; it is connected, but nothing is kept for it while it is away',
    }
  return undefined
}

/** Tells of clients that do not read. */
export function logSlowClients(aedes: Aedes, log: SparseLog): void {
  const tell = (client: Client, error: Error) => {
    if (error.message === 'drain timeout')
      log('drain', `broker: ${nameOf(client)} did not read and was cut off`)
  }
  aedes.on('clientError', tell)
  aedes.on('connectionError', tell)
}

function refusal(text: string, returnCode: number): AuthenticateError {
  return Object.assign(new Error(text), { returnCode }) as AuthenticateError
}

/** What Headrace tells of itself, and what it tells a simulator to do: from nobody else would it be true. */
function isOwnTopic(topic: string): boolean {
  return topic.startsWith('headrace/') || topic.includes('/simulator/command/')
}

function topicFault(topic: string): string | undefined {
  if (topic.startsWith('$')) return 'that begins with "$"'
  if (topic.length > LONGEST_TOPIC) return `of more than ${LONGEST_TOPIC} characters`
  if (topic.split('/').length > MOST_LEVELS) return `of more than ${MOST_LEVELS} levels`
  if (hasControlCharacter(topic)) return 'with control characters'
  return undefined
}

function hasControlCharacter(text: string): boolean {
  for (let i = 0; i < text.length; i++) {
    const code = text.charCodeAt(i)
    if (code < 32 || code === 127) return true
  }
  return false
}

function settleRetain(packet: PublishPacket, keepRetained: AccessOptions['keepRetained']): void {
  // A copy: the payload is a slice that would keep the whole socket chunk in memory.
  const payload = Buffer.from(packet.payload as Buffer)
  packet.payload = payload
  packet.retain = false
  keepRetained(packet.topic, payload)
}

function nameOf(client: Client): string {
  return `client "${shown(client.id)}" at ${addressOf(client)}`
}

function addressOf(client: Client): string {
  return ('remoteAddress' in client.conn ? client.conn.remoteAddress : undefined) ?? 'an unknown address'
}

/** The beginning of what came from the network, for a line of the log. */
export function shown(text: string | undefined): string {
  return printable((text ?? '').slice(0, 64))
}
