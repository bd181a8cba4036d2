import { execFile } from 'node:child_process'
import { promisify } from 'node:util'
import { afterEach, describe, expect, it } from 'vitest'
import { systemClock } from '../../../../server/clock.ts'
import type { Broker } from '../../../../server/ingest/broker/broker.ts'
import {
  createExternalBroker,
  type ExternalBrokerOptions,
} from '../../../../server/ingest/broker/external.ts'
import {
  collect,
  foreignClient,
  isConnected,
  isLost,
  messageOf,
  statusOf,
} from '../../../support/brokerEvents.ts'
import { type Mosquitto, startMosquitto } from '../../../support/mosquitto.ts'

describe('createExternalBroker with a broker that comes and goes', () => {
  const ended: (() => Promise<unknown>)[] = []

  async function open(mosquitto: Mosquitto, options: Partial<ExternalBrokerOptions> = {}): Promise<Broker> {
    const broker = createExternalBroker({
      clock: systemClock,
      url: mosquitto.url,
      reconnectMinMs: 50,
      reconnectMaxMs: 100,
      ...options,
    })
    broker.subscribe(['mill/#'])
    await broker.start()
    ended.unshift(broker.close)
    return broker
  }

  async function start(options = {}): Promise<Mosquitto> {
    const mosquitto = await startMosquitto(options)
    ended.push(mosquitto.close)
    return mosquitto
  }

  afterEach(async () => {
    for (const end of ended.splice(0)) await end()
  })

  it('tells within two seconds that the broker died', async () => {
    const mosquitto = await start()
    const broker = await open(mosquitto)
    await statusOf(broker, isConnected)
    const lost = statusOf(broker, isLost)
    const killedAt = performance.now()
    await mosquitto.kill()
    expect((await lost).detail).toEqual(expect.any(String))
    expect(performance.now() - killedAt).toBeLessThan(2000)
  })

  it('connects and subscribes again to a broker that has forgotten everything, and counts nothing twice', async () => {
    const mosquitto = await start()
    const broker = await open(mosquitto)
    await statusOf(broker, isConnected)
    for (let round = 0; round < 3; round++) {
      const lost = statusOf(broker, isLost)
      await mosquitto.kill()
      await lost
      await mosquitto.restart()
      await statusOf(broker, isConnected)
    }
    // our own message comes back: the subscription stands
    const probe = messageOf(broker, 'mill/probe')
    broker.publish('mill/probe', '')
    await probe
    const all = collect(broker)
    const sensor = await foreignClient(mosquitto.port)
    const end = messageOf(broker, 'mill/end')
    for (let i = 0; i < 200; i++) sensor.publish('mill/level', String(i), { qos: 1 })
    sensor.publish('mill/end', '', { qos: 1 })
    await end
    await sensor.endAsync()
    expect(all).toHaveLength(201)
    expect(broker.counters().reconnects).toBe(3)
  })

  it('starts without a broker, says why, and connects when there is one', async () => {
    const mosquitto = await start()
    await mosquitto.kill()
    const broker = await open(mosquitto)
    const lost = await statusOf(broker, (status) => status.detail !== undefined)
    expect(lost).toEqual({
      connected: false,
      name: mosquitto.url,
      since: null,
      detail: 'nothing answers on that port: is the broker running?',
    })
    broker.publish('headrace/mill/power', '1', { retain: true })
    broker.publish('headrace/mill/power', '2', { retain: true })
    await mosquitto.restart()
    await statusOf(broker, isConnected)
    const viewer = await foreignClient(mosquitto.port)
    const kept = new Promise((resolve) =>
      viewer.on('message', (_topic, payload) => resolve(payload.toString())),
    )
    await viewer.subscribeAsync('headrace/#')
    expect(await kept).toBe('2')
    await viewer.endAsync()
    expect(broker.counters()).toMatchObject({ published: 1, publishDropped: 0, reconnects: 0 })
  })

  it('says that the password is wrong, goes on trying, and never shows it', async () => {
    const mosquitto = await start({ login: { user: 'mill', password: 'race' } })
    const lines: string[] = []
    const broker = await open(mosquitto, {
      url: mosquitto.url.replace('//', '//mill:s3cret@'),
      log: (line) => lines.push(line),
    })
    const refused = await statusOf(broker, (status) => status.detail !== undefined)
    expect(refused.detail).toMatch(/refused the user name or password/)
    expect(refused.name).toBe(mosquitto.url)
    expect(JSON.stringify([lines, refused])).not.toContain('s3cret')
  })

  it('logs in with user and password', async () => {
    const mosquitto = await start({ login: { user: 'mill', password: 'r@ce/1' } })
    const broker = await open(mosquitto, {
      url: mosquitto.url.replace('//', `//mill:${encodeURIComponent('r@ce/1')}@`),
    })
    expect((await statusOf(broker, isConnected)).name).toBe(mosquitto.url)
  })

  it('hears another maker’s client', async () => {
    const mosquitto = await start()
    const broker = await open(mosquitto)
    await statusOf(broker, isConnected)
    const probe = messageOf(broker, 'mill/probe')
    broker.publish('mill/probe', '')
    await probe
    const arrival = messageOf(broker, 'mill/level')
    await promisify(execFile)('mosquitto_pub', [
      '-p',
      String(mosquitto.port),
      '-t',
      'mill/level',
      '-m',
      '1.25',
      '-V',
      '5',
    ])
    expect(Buffer.from((await arrival).payload).toString()).toBe('1.25')
  })
})
