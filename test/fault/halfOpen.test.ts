import type { AddressInfo } from 'node:net'
import { connect, createServer, type Server, type Socket } from 'node:net'
import { generate } from 'mqtt-packet'
import { afterEach, expect, it } from 'vitest'
import { systemClock } from '../../server/clock.ts'
import { createEmbeddedBroker } from '../../server/ingest/broker/embedded.ts'
import { createExternalBroker } from '../../server/ingest/broker/external.ts'
import { foreignClient, isConnected, isLost, messageOf, statusOf } from '../support/brokerEvents.ts'
import { sharedBroker } from '../support/sharedBroker.ts'

const KEEPALIVE_S = 1
/** MQTT 3.1.1, 3.1.2.10: a side that hears nothing for one and a half times the keep-alive takes the line for dead. */
const NOTICED_MS = 1500 * KEEPALIVE_S
/** What a busy machine may add. */
const SLACK_MS = 6000

const ended: (() => unknown)[] = []
afterEach(async () => {
  for (const end of ended.splice(0).reverse()) await end()
})

/** Hands everything on between both sides, until it falls silent for those it has: then nothing comes, and no end either. */
async function relayTo(port: number): Promise<{ port: number; fallSilent(): void }> {
  const pairs: [Socket, Socket][] = []
  const server: Server = createServer((near) => {
    const far = connect(port, '127.0.0.1')
    pairs.push([near, far])
    for (const socket of [near, far]) socket.on('error', () => {})
    near.pipe(far)
    far.pipe(near)
  })
  await new Promise<void>((resolve) => server.listen(0, '127.0.0.1', resolve))
  ended.push(() => {
    for (const socket of pairs.flat()) socket.destroy()
    server.close()
  })
  return {
    port: (server.address() as AddressInfo).port,
    fallSilent() {
      for (const [near, far] of pairs.splice(0)) {
        near.unpipe(far).resume()
        far.unpipe(near).resume()
        ended.push(
          () => near.destroy(),
          () => far.destroy(),
        )
      }
    },
  }
}

it('a line to the external broker that is dead at both ends is noticed by the keep-alive, and replaced', async () => {
  const far = await sharedBroker()
  ended.push(far.close)
  const relay = await relayTo(Number(new URL(far.url).port))
  const broker = createExternalBroker({
    clock: systemClock,
    url: `mqtt://127.0.0.1:${relay.port}`,
    keepaliveS: KEEPALIVE_S,
    reconnectMinMs: 50,
    reconnectMaxMs: 100,
  })
  broker.subscribe(['mill/#'])
  await broker.start()
  ended.push(broker.close)
  await statusOf(broker, isConnected)
  const lost = statusOf(broker, isLost)
  const silentAt = performance.now()
  relay.fallSilent()
  expect((await lost).detail).toEqual(expect.any(String))
  expect(performance.now() - silentAt).toBeLessThan(NOTICED_MS + SLACK_MS)
  await statusOf(broker, isConnected)
  const sensor = await foreignClient(Number(new URL(far.url).port))
  ended.push(() => sensor.endAsync(true))
  const message = messageOf(broker, 'mill/level')
  for (let i = 0; i < 3; i++) sensor.publish('mill/level', '1.5')
  expect(Buffer.from((await message).payload).toString()).toBe('1.5')
}, 30_000)

it('a sensor whose line is dead is given up by the broker inside, which sends its last will', async () => {
  const broker = createEmbeddedBroker({ clock: systemClock, port: 0 })
  broker.subscribe(['#'])
  await broker.start()
  ended.push(broker.close)
  const will = messageOf(broker, 'mill/status')
  const socket = connect(broker.port(), '127.0.0.1')
  ended.push(() => socket.destroy())
  const silentAt = performance.now()
  socket.on('error', () => {})
  socket.write(
    generate({
      cmd: 'connect',
      clientId: 'sensor',
      protocolId: 'MQTT',
      protocolVersion: 4,
      clean: true,
      keepalive: KEEPALIVE_S,
      will: { topic: 'mill/status', payload: Buffer.from('gone'), qos: 0, retain: false },
    }),
  )
  expect(Buffer.from((await will).payload).toString()).toBe('gone')
  expect(performance.now() - silentAt).toBeGreaterThan(1000 * KEEPALIVE_S - 100)
  expect(performance.now() - silentAt).toBeLessThan(NOTICED_MS + SLACK_MS)
}, 30_000)
