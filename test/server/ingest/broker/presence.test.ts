import type { AddressInfo } from 'node:net'
import { createServer, type Socket } from 'node:net'
import { Aedes } from 'aedes'
import { connectAsync, type MqttClient } from 'mqtt'
import { afterEach, describe, it } from 'vitest'
import { systemClock } from '../../../../server/clock.ts'
import { createEmbeddedBroker } from '../../../../server/ingest/broker/embedded.ts'
import { createExternalPair } from '../../../../server/ingest/broker/external.ts'
import { until } from '../../../support/publisher.ts'

const TOPIC = 'headrace/status'

describe('the presence topic', () => {
  const ended: (() => Promise<unknown>)[] = []
  afterEach(async () => {
    for (const end of ended.splice(0)) await end()
  })

  /** What a client hears on the topic, with "retained" where the broker kept it. */
  async function listen(port: number): Promise<string[]> {
    const client: MqttClient = await connectAsync(`mqtt://127.0.0.1:${port}`)
    ended.unshift(() => client.endAsync(true))
    const heard: string[] = []
    client.on('message', (_topic, payload, packet) => {
      heard.push(`${payload}${packet.retain ? ' retained' : ''}`)
    })
    await client.subscribeAsync(TOPIC)
    return heard
  }
  const untilHeard = (heard: string[], words: string[]) =>
    until(
      async () => heard,
      (all) => JSON.stringify(all) === JSON.stringify(words),
    )

  it('says online, offline when the connection dies without a goodbye, online again, and offline at the end', async () => {
    const aedes = await Aedes.createBroker()
    const sockets = new Set<Socket>()
    const server = createServer((socket) => {
      sockets.add(socket)
      aedes.handle(socket)
    })
    await new Promise<void>((resolve) => server.listen(0, '127.0.0.1', resolve))
    const { port } = server.address() as AddressInfo
    ended.push(async () => {
      await new Promise<void>((resolve) => aedes.close(() => resolve()))
      server.close()
    })
    const heard = await listen(port)
    const [listener] = sockets
    const url = `mqtt://127.0.0.1:${port}`
    const timing = { reconnectMinMs: 50, reconnectMaxMs: 100 }
    const pair = createExternalPair({ clock: systemClock, url, presenceTopic: TOPIC, ...timing })
    await pair.start()
    await untilHeard(heard, ['online'])
    await untilHeard(await listen(port), ['online retained'])
    // as when the process is killed: the sockets end, and nothing was said
    const [second] = [...sockets].slice(-1)
    for (const socket of sockets) if (socket !== listener && socket !== second) socket.destroy()
    await untilHeard(heard, ['online', 'offline', 'online'])
    await pair.close()
    await untilHeard(heard, ['online', 'offline', 'online', 'offline'])
  })

  it('is kept for later listeners by the broker inside', async () => {
    const broker = createEmbeddedBroker({ clock: systemClock, port: 0, presenceTopic: TOPIC })
    await broker.start()
    ended.push(broker.close)
    const heard = await listen(broker.port())
    await untilHeard(heard, ['online retained'])
    const closed = broker.close()
    await untilHeard(heard, ['online retained', 'offline'])
    await closed
  })
})
