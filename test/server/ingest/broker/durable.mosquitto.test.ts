import { afterEach, beforeEach, describe, expect, it } from 'vitest'
import { systemClock } from '../../../../server/clock.ts'
import type { Broker, Message } from '../../../../server/ingest/broker/broker.ts'
import { createEmbeddedBroker } from '../../../../server/ingest/broker/embedded.ts'
import { createExternalPair } from '../../../../server/ingest/broker/external.ts'
import { collect, foreignClient, isConnected, messageOf, statusOf } from '../../../support/brokerEvents.ts'
import { type Mosquitto, startMosquitto } from '../../../support/mosquitto.ts'
import { until } from '../../../support/publisher.ts'

const durableId = 'headrace-0123456789ab'

// What a broker keeps: MQTT 3.1.1, 3.1.2.4 and 4.1; of MQTT 5, 3.1.2.11.2. QoS 0 is left to the broker: 3.1.1, 4.3.1.
describe('a durable session at a broker', () => {
  let mosquitto: Mosquitto
  const ended: (() => Promise<unknown>)[] = []

  beforeEach(async () => {
    mosquitto = await startMosquitto()
  })
  afterEach(async () => {
    for (const end of ended.splice(0)) await end()
    await mosquitto.close()
  })

  async function open(filters: string[], kept: string[], url = mosquitto.url) {
    const broker = createExternalPair({
      clock: systemClock,
      url,
      durableId,
      reconnectMinMs: 50,
      reconnectMaxMs: 100,
    })
    ended.unshift(broker.close)
    broker.subscribe(filters, kept)
    const got: Message[] = []
    broker.onMessage((message) => got.push(message))
    await broker.start()
    await statusOf(broker, isConnected)
    await proveSubscribed(broker, [...filters, ...kept])
    return { broker, got }
  }

  /** Our own message has come back over each. */
  async function proveSubscribed(broker: Broker, topics: string[]): Promise<void> {
    for (const topic of topics) {
      const probe = messageOf(broker, topic)
      const timer = setInterval(() => broker.publish(topic, 'probe'), 50)
      await probe
      clearInterval(timer)
    }
  }

  async function publish(...messages: [topic: string, payload: string, qos?: 0 | 1][]): Promise<void> {
    const sensor = await foreignClient(mosquitto.port)
    for (const [topic, payload, qos = 1] of messages) await sensor.publishAsync(topic, payload, { qos })
    await sensor.endAsync()
  }

  const shown = (got: Message[]) =>
    got
      .map(({ topic, payload }) => `${topic} ${Buffer.from(payload)}`)
      .filter((text) => !text.endsWith('probe'))

  it('has what was sent meanwhile with QoS 1 on topics that carry their time, in its order, and nothing else', async () => {
    const first = await open(['mill/power'], ['mill/speed'])
    await first.broker.close()
    await publish(['mill/speed', '1'], ['mill/power', 'old'], ['mill/speed', 'lost', 0], ['mill/speed', '2'])
    const { got } = await open(['mill/power'], ['mill/speed'])
    await publish(['mill/speed', 'now'], ['mill/power', 'now'])
    const all = await until(
      async () => shown(got),
      (texts) => texts.filter((text) => text.endsWith('now')).length === 2,
    )
    expect(all.filter((text) => text.startsWith('mill/speed'))).toEqual([
      'mill/speed 1',
      'mill/speed 2',
      'mill/speed now',
    ])
    expect(all.filter((text) => text.startsWith('mill/power'))).toEqual(['mill/power now'])
  })

  it('tells of each message in it when the session was taken up again', async () => {
    const first = await open(['mill/power'], ['mill/speed'])
    await first.broker.close()
    await publish(['mill/speed', '1'], ['mill/speed', '2'])
    const broker = createExternalPair({ clock: systemClock, url: mosquitto.url, durableId })
    ended.unshift(broker.close)
    broker.subscribe(['mill/power'], ['mill/speed'])
    const all = collect(broker)
    const before = Date.now()
    const arrival = messageOf(broker, 'mill/speed')
    await broker.start()
    const { resumedAt } = await arrival
    expect(resumedAt).toBeGreaterThanOrEqual(before)
    await until(
      async () => all,
      (list) => list.length === 2,
    )
    expect(all.map(([, text]) => text)).toEqual(['1', '2'])
    const live = messageOf(broker, 'mill/power')
    await publish(['mill/power', '3'])
    expect(await live).not.toHaveProperty('resumedAt', expect.any(Number))
  })

  it('gives up a topic that carries a time no longer, with what was kept of it', async () => {
    const first = await open([], ['mill/speed', 'mill/valve'])
    await first.broker.close()
    await publish(['mill/valve', 'old'], ['mill/speed', '1'])
    const broker = createExternalPair({ clock: systemClock, url: mosquitto.url, durableId })
    ended.unshift(broker.close)
    broker.subscribe(['mill/valve'], ['mill/speed'])
    const all = collect(broker)
    await broker.start()
    await until(
      async () => all,
      (list) => list.length > 0,
    )
    await statusOf(broker, isConnected)
    await proveSubscribed(broker, ['mill/valve'])
    await publish(['mill/valve', 'now'])
    await until(
      async () => all,
      (list) => list.some(([, text]) => text === 'now'),
    )
    expect(all.filter(([, text]) => text !== 'probe').map(([topic, text]) => `${topic} ${text}`)).toEqual([
      'mill/speed 1',
      'mill/valve now',
    ])
  })

  it('ends at the broker once nothing carries a time', async () => {
    const first = await open([], ['mill/speed'])
    await first.broker.close()
    await publish(['mill/speed', 'old'])
    const second = await open(['mill/speed'], [])
    await second.broker.close()
    const { got } = await open(['mill/power'], ['mill/speed'])
    await publish(['mill/speed', 'now'])
    expect(
      await until(
        async () => shown(got),
        (texts) => texts.length > 0,
      ),
    ).toEqual(['mill/speed now'])
  })

  it('hears each message once when a topic changes sides while it runs', async () => {
    const { broker, got } = await open(['mill/a'], ['mill/b'])
    broker.subscribe(['mill/b'], ['mill/a'])
    await proveSubscribed(broker, ['mill/a', 'mill/b'])
    got.length = 0
    await publish(['mill/a', '1'], ['mill/b', '2'], ['mill/a', '3'])
    const all = await until(
      async () => shown(got),
      (texts) => texts.length >= 3,
    )
    expect(all.sort()).toEqual(['mill/a 1', 'mill/a 3', 'mill/b 2'])
  })

  it('speaks MQTT 3.1.1 to a broker that knows no other version', async () => {
    const old = createEmbeddedBroker({ clock: systemClock, port: 0 })
    await old.start()
    ended.push(old.close)
    const { got, broker } = await open(['mill/power'], ['mill/speed'], `mqtt://127.0.0.1:${old.port()}`)
    const sensor = await foreignClient(old.port())
    await sensor.publishAsync('mill/speed', '1', { qos: 1 })
    await sensor.endAsync()
    expect(
      await until(
        async () => shown(got),
        (texts) => texts.length > 0,
      ),
    ).toEqual(['mill/speed 1'])
    expect(broker.status().connected).toBe(true)
  })
})
