import type { MqttClient } from 'mqtt'
import { afterEach, beforeEach, describe, expect, it } from 'vitest'
import type { Broker } from '../../server/ingest/broker/broker.ts'
import { collect, foreignClient, isConnected, messageOf, statusOf } from '../support/brokerEvents.ts'

/** One broker behind our interface, and the port where sensors reach it. */
export interface BrokerUnderTest {
  broker: Broker
  port: () => number
  /** Ends what is not closed by `broker.close()`. */
  cleanUp: () => Promise<void>
}

const MEGABYTE = 1_048_576

/**
 * What every implementation of `Broker` must do. `open` gives one that is not started yet.
 * Texts and numbers are made up here; the rules are those of MQTT 3.1.1 where a clause is named.
 */
export function itIsABroker(open: () => Promise<BrokerUnderTest>): void {
  describe('as any broker', () => {
    let test: BrokerUnderTest
    let broker: Broker
    const clients: MqttClient[] = []

    async function sensor(): Promise<MqttClient> {
      const client = await foreignClient(test.port())
      clients.push(client)
      return client
    }

    async function start(...filters: string[]): Promise<void> {
      broker.subscribe(filters)
      await broker.start()
      await statusOf(broker, isConnected)
      // Not only connected but subscribed: the first of our own messages has come back.
      if (filters.length > 0) await untilSubscribed(broker, filters)
    }

    beforeEach(async () => {
      test = await open()
      broker = test.broker
    })

    afterEach(async () => {
      await Promise.all(clients.splice(0).map((client) => client.endAsync(true)))
      await broker.close()
      await test.cleanUp()
    })

    it('delivers what a sensor publishes, with topic, payload and time of arrival', async () => {
      await start('mill/#')
      const arrival = messageOf(broker, 'mill/level')
      const before = Date.now()
      ;(await sensor()).publish('mill/level', '1.25')
      const message = await arrival
      expect(Buffer.from(message.payload).toString()).toBe('1.25')
      expect(message.retained).toBe(false)
      expect(message.receivedAt).toBeGreaterThanOrEqual(before)
      expect(message.receivedAt).toBeLessThanOrEqual(Date.now())
    })

    it('delivers nothing that was not asked for', async () => {
      await start('mill/level', 'mill/end')
      const all = collect(broker)
      const client = await sensor()
      const end = messageOf(broker, 'mill/end')
      client.publish('mill/flow', '3')
      client.publish('mill/level/raw', '4')
      client.publish('mill/end', '')
      await end
      expect(all).toEqual([['mill/end', '', false]])
    })

    it('counts nothing twice, not even where filters overlap', async () => {
      await start('mill/#', 'mill/+', 'mill/level', 'mill/end')
      const all = collect(broker)
      const before = broker.counters().received
      const client = await sensor()
      const end = messageOf(broker, 'mill/end')
      for (let i = 0; i < 1000; i++) client.publish('mill/level', String(i))
      client.publish('mill/end', '')
      await end
      const levels = all.filter(([topic]) => topic === 'mill/level').map(([, text]) => text)
      expect(levels).toEqual(Array.from({ length: 1000 }, (_, i) => String(i)))
      expect(broker.counters().received - before).toBe(1001)
    })

    it('takes a filter that comes after the start', async () => {
      await start('mill/level')
      broker.subscribe(['rig/speed'])
      await untilSubscribed(broker, ['rig/speed'])
      const arrival = messageOf(broker, 'rig/speed')
      ;(await sensor()).publish('rig/speed', '1500')
      expect(Buffer.from((await arrival).payload).toString()).toBe('1500')
    })

    it('marks what was kept from before the subscription as retained, and later messages not (§ 3.3.1.3)', async () => {
      await start('mill/level')
      const client = await sensor()
      await client.publishAsync('rig/valve', '1', { retain: true, qos: 1 })
      const kept = messageOf(broker, 'rig/valve')
      broker.subscribe(['rig/valve'])
      expect((await kept).retained).toBe(true)
      const live = messageOf(broker, 'rig/valve')
      client.publish('rig/valve', '0', { retain: true })
      expect((await live).retained).toBe(false)
    })

    it('leaves out a 10 MB packet, counts it, and goes on with the next', async () => {
      await start('mill/#')
      const all = collect(broker)
      const client = await sensor()
      const end = messageOf(broker, 'mill/end')
      client.publish('mill/level', Buffer.alloc(10 * MEGABYTE, 49))
      client.publish('mill/end', '')
      await end
      expect(all).toEqual([['mill/end', '', false]])
      expect(broker.counters().oversize).toBe(1)
    })

    it('delivers a payload of 65 000 bytes whole', async () => {
      await start('mill/#')
      const arrival = messageOf(broker, 'mill/level')
      const payload = Buffer.from(Array.from({ length: 65_000 }, (_, i) => i % 251))
      ;(await sensor()).publish('mill/level', payload)
      expect(Buffer.compare((await arrival).payload, payload)).toBe(0)
    })

    it('never delivers topics that begin with "$" (§ 4.7.2)', async () => {
      await start('#')
      const all = collect(broker)
      const client = await sensor()
      const end = messageOf(broker, 'mill/end')
      await client.subscribeAsync('mill/end')
      client.publish('mill/end', '')
      await end
      expect(all.filter(([topic]) => topic.startsWith('$'))).toEqual([])
    })

    it('publishes to other clients, and keeps what is to be retained', async () => {
      await start()
      broker.publish('headrace/mill/power', '847', { retain: true })
      const client = await sensor()
      const arrival = new Promise<[string, string, boolean]>((resolve) => {
        client.on('message', (topic, payload, packet) => resolve([topic, payload.toString(), packet.retain]))
      })
      await client.subscribeAsync('headrace/#')
      expect(await arrival).toEqual(['headrace/mill/power', '847', true])
      expect(broker.counters().published).toBe(1)
    })

    it('delivers a retained message and the one right after it, to us and to others, in order', async () => {
      await start('mill/#')
      const viewer = await sensor()
      const heard: string[] = []
      const last = new Promise<void>((resolve) => {
        viewer.on('message', (topic) => {
          heard.push(topic)
          if (topic === 'mill/own/second') resolve()
        })
      })
      await viewer.subscribeAsync('mill/#')
      const all = collect(broker)
      const second = messageOf(broker, 'mill/second')
      const client = await sensor()
      client.stream.cork()
      client.publish('mill/first', '1', { retain: true })
      client.publish('mill/second', '2')
      client.stream.uncork()
      await second
      broker.publish('mill/own/first', '1', { retain: true })
      broker.publish('mill/own/second', '2')
      await last
      expect(all.slice(0, 2).map(([topic]) => topic)).toEqual(['mill/first', 'mill/second'])
      expect(heard).toEqual(['mill/first', 'mill/second', 'mill/own/first', 'mill/own/second'])
    })

    it('stops telling a listener that has been removed', async () => {
      await start('mill/#')
      const heard: string[] = []
      const stop = broker.onMessage(({ topic }) => heard.push(topic))
      stop()
      const end = messageOf(broker, 'mill/end')
      ;(await sensor()).publish('mill/end', '')
      await end
      expect(heard).toEqual([])
    })

    it('is not connected after closing, says since when, and counts later publishes as dropped', async () => {
      await start('mill/#')
      expect(broker.status()).toMatchObject({ connected: true, since: expect.any(Number) })
      await broker.close()
      broker.publish('headrace/late', '1')
      expect(broker.status()).toMatchObject({ connected: false, detail: expect.any(String) })
      expect(broker.counters().publishDropped).toBe(1)
    })

    it('has sent everything when it is closed', async () => {
      await start()
      const client = await sensor()
      const texts: string[] = []
      const last = new Promise<void>((resolve) => {
        client.on('message', (_topic, payload) => {
          texts.push(payload.toString())
          if (texts.length === 500) resolve()
        })
      })
      await client.subscribeAsync('headrace/#')
      for (let i = 0; i < 500; i++) broker.publish(`headrace/${i}`, String(i))
      await broker.close()
      await last
      expect(texts).toEqual(Array.from({ length: 500 }, (_, i) => String(i)))
    })
  })
}

/** Sends our own messages on the filters' topics until one comes back on each. */
async function untilSubscribed(broker: Broker, filters: readonly string[]): Promise<void> {
  for (const filter of filters) {
    const topic = filter.replace('#', 'probe').replace('+', 'probe')
    const back = messageOf(broker, topic)
    broker.publish(topic, 'probe')
    await back
  }
}
