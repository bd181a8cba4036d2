import { connect } from 'node:net'
import fc from 'fast-check'
import { generate, type Packet } from 'mqtt-packet'
import { systemClock } from '../../../server/clock.ts'
import { createEmbeddedBroker } from '../../../server/ingest/broker/embedded.ts'
import { foreignClient } from '../../support/brokerEvents.ts'
import { damagedBytes, rubbish } from '../rubbish.ts'
import { demand, opened, type Target } from '../target.ts'

const topic = fc.oneof(
  fc.constantFrom('mill/level', 'a/b', 'headrace/status', '$SYS/x', 'a/#', '+', '/', '//', 'a/'.repeat(200)),
  rubbish,
)
const filled = topic.map((text) => text.slice(0, 1000) || 'x')
const qos = fc.constantFrom(0 as const, 1 as const, 2 as const)
const messageId = fc.integer({ min: 1, max: 65_535 })
const payload = fc.oneof(
  rubbish,
  fc.nat(70_000).map((length) => 'x'.repeat(length)),
)

const publish = fc.record({ topic: filled, payload, qos, messageId, retain: fc.boolean(), dup: fc.boolean() })
const packet: fc.Arbitrary<Packet> = fc.oneof(
  publish.map((one): Packet => ({ cmd: 'publish', ...one, dup: one.qos > 0 && one.dup })),
  fc
    .tuple(messageId, fc.array(fc.record({ topic: filled, qos }), { minLength: 1, maxLength: 5 }))
    .map(([id, subscriptions]): Packet => ({ cmd: 'subscribe', messageId: id, subscriptions })),
  fc
    .tuple(messageId, fc.array(filled, { minLength: 1, maxLength: 5 }))
    .map(([id, unsubscriptions]): Packet => ({ cmd: 'unsubscribe', messageId: id, unsubscriptions })),
  fc
    .tuple(
      fc.constantFrom('puback' as const, 'pubrec' as const, 'pubrel' as const, 'pubcomp' as const),
      messageId,
    )
    .map(([cmd, id]): Packet => ({ cmd, messageId: id })),
  fc.constantFrom<Packet>({ cmd: 'pingreq' }, { cmd: 'disconnect' }, { cmd: 'pingresp' }),
)

const hello: fc.Arbitrary<Packet> = fc
  .record({
    clientId: fc.constantFrom('a', 'b', 'c', 'x'.repeat(100)),
    clean: fc.constant(true),
    keepalive: fc.constantFrom(1, 60, 120, 0, 65_535),
    username: fc.option(rubbish, { nil: undefined }),
    will: fc.option(
      publish.map(({ topic: t, payload: p, qos: q, retain }) => ({
        topic: t,
        payload: Buffer.from(p.slice(0, 60_000)),
        qos: q,
        retain,
      })),
      { nil: undefined },
    ),
  })
  .map(({ username, will, ...rest }) => ({
    cmd: 'connect',
    protocolId: 'MQTT',
    protocolVersion: 4,
    ...rest,
    ...(username ? { username } : {}),
    ...(will ? { will } : {}),
  }))

const bytesOf = (one: Packet) => {
  try {
    return generate(one)
  } catch {
    // What the library itself does not write comes in as bytes.
    return Buffer.from(JSON.stringify(one))
  }
}
/** Half of the packets as they should be, so that the session lives for those that are not. */
const wire = (packets: fc.Arbitrary<Packet>) =>
  fc.oneof(packets.map(bytesOf), damagedBytes(packets.map(bytesOf)))

interface Session {
  chunks: Uint8Array[]
  isCut: boolean
}

/** A sensor has to be heard once in so many sessions. */
const PROOF_EVERY = 200

/** A case is a connection: what one client sends from its first byte on. */
export const mqttTarget: Target = {
  name: 'mqtt',
  share: 0.05,
  async open() {
    const broker = createEmbeddedBroker({ clock: systemClock, port: 0, maxConnections: 1e6, maxUnknown: 1e6 })
    let heard = 0
    broker.subscribe(['#'])
    broker.onMessage(({ topic: name }) => {
      if (name === 'proof/level') heard++
    })
    await broker.start()
    const sensor = await foreignClient(broker.port(), { clientId: 'sensor', keepalive: 60 })
    let sessions = 0
    return opened<Session>({
      cases: fc.record({
        chunks: fc
          .tuple(
            fc.oneof({ weight: 8, arbitrary: hello.map(bytesOf) }, { weight: 1, arbitrary: wire(hello) }),
            fc.array(wire(packet), { maxLength: 8 }),
          )
          .map(([first, rest]) => [first, ...rest]),
        isCut: fc.boolean(),
      }),
      run: ({ chunks, isCut }) => send(broker.port(), isCut ? chunks : [Buffer.concat(chunks)], sessions),
      async before() {
        sessions++
        if (sessions % PROOF_EVERY !== 0) return
        const known = heard
        await sensor.publishAsync('proof/level', '1', { qos: 1 })
        demand(heard === known + 1, () => 'a sensor beside it was not heard')
      },
      async close() {
        await sensor.endAsync(true)
        await broker.close()
      },
    })
  },
}

/** From ever other addresses of this machine, since a closed connection keeps its port for a while. */
function send(port: number, chunks: readonly Uint8Array[], session: number): Promise<void> {
  return new Promise((resolve) => {
    const localAddress = `127.1.${Math.floor(session / 250) % 250}.${1 + (session % 250)}`
    const socket = connect({ port, host: '127.0.0.1', localAddress, noDelay: true })
    socket.on('error', () => {})
    socket.on('close', () => resolve())
    socket.resume()
    for (const chunk of chunks) socket.write(chunk)
    socket.end()
  })
}
