import { connect } from 'node:net'
import { generate } from 'mqtt-packet'
import { afterEach, beforeEach, describe, expect, it, vi } from 'vitest'
import { systemClock } from '../../../../server/clock.ts'
import type { Message } from '../../../../server/ingest/broker/broker.ts'
import {
  createEmbeddedBroker,
  type EmbeddedBroker,
  type EmbeddedBrokerOptions,
} from '../../../../server/ingest/broker/embedded.ts'
import { foreignClient } from '../../../support/brokerEvents.ts'

/** What one client may do to the broker that shares a process with the watch. */
describe('what one MQTT client may ask of the embedded broker', () => {
  let broker: EmbeddedBroker
  let lines: string[]
  let taken: Message[]
  const ended: (() => unknown)[] = []

  async function start(options: Partial<EmbeddedBrokerOptions> = {}): Promise<void> {
    lines = []
    taken = []
    broker = createEmbeddedBroker({
      clock: systemClock,
      port: 0,
      log: (line) => lines.push(line),
      ...options,
    })
    broker.subscribe(['#'])
    broker.onMessage((message) => taken.push(message))
    await broker.start()
  }

  async function client(options = {}) {
    const one = await foreignClient(broker.port(), options)
    one.on('error', () => {})
    ended.push(() => one.endAsync(true))
    return one
  }

  /** A connection on which bytes are sent as they are, once it is let in; resolves when the broker has closed it. */
  function raw(first: Buffer, bytes: Buffer = Buffer.alloc(0)): Promise<void> {
    return new Promise((resolve) => {
      const socket = connect(broker.port(), '127.0.0.1', () => socket.write(first))
      ended.push(() => socket.destroy())
      socket.on('error', () => {})
      socket.on('close', () => resolve())
      socket.once('data', () => socket.write(bytes))
      socket.resume()
    })
  }

  const hello = (clientId: string) =>
    generate({ cmd: 'connect', clientId, protocolId: 'MQTT', protocolVersion: 4, clean: true, keepalive: 60 })

  beforeEach(() => start())

  afterEach(async () => {
    await Promise.all(ended.splice(0).map((end) => end()))
    await broker.close()
  })

  it('holds no more than a few messages with QoS 2 that a client never ends', async () => {
    const payload = Buffer.alloc(60_000, 120)
    const begun = Array.from({ length: 100 }, (_, i) =>
      generate({
        cmd: 'publish',
        topic: 'a/b',
        payload,
        qos: 2,
        messageId: i + 1,
        dup: false,
        retain: false,
      }),
    )
    await raw(hello('half'), Buffer.concat(begun))
    expect(taken.length).toBeGreaterThan(0)
    expect(taken.length).toBeLessThanOrEqual(20)
  })

  it('keeps retained messages up to a sum of bytes, and says which it did not keep', async () => {
    await broker.close()
    await start({ maxRetainedBytes: 100_000 })
    const one = await client()
    for (let i = 0; i < 3; i++)
      await one.publishAsync(`kept/${i}`, Buffer.alloc(40_000), { qos: 1, retain: true })
    expect(lines).toEqual(['broker: "kept/2" is not retained: 80000 bytes are already, at most 100000'])
    const other = await client()
    const got: string[] = []
    other.on('message', (topic) => got.push(topic))
    await other.subscribeAsync('kept/#')
    await vi.waitFor(() => expect(got).toEqual(['kept/0', 'kept/1']))
  })

  it('keeps what the server itself tells, however much its clients keep', async () => {
    await broker.close()
    await start({ maxRetainedBytes: 100_000 })
    const one = await client()
    await one.publishAsync('kept/0', Buffer.alloc(60_000), { qos: 1, retain: true })
    broker.publish('headrace/mill/alarms/over', Buffer.alloc(60_000), { retain: true })
    const got: string[] = []
    const other = await client()
    other.on('message', (topic) => got.push(topic))
    await other.subscribeAsync('headrace/#')
    await vi.waitFor(() => expect(got).toContain('headrace/mill/alarms/over'))
  })

  it('gives room back when a retained message is cleared or made shorter', async () => {
    await broker.close()
    await start({ maxRetainedBytes: 100_000 })
    const one = await client()
    const put = (topic: string, bytes: number) =>
      one.publishAsync(topic, Buffer.alloc(bytes), { qos: 1, retain: true })
    await put('a', 90_000 - 30_000)
    await put('a', 10)
    await put('b', 60_000)
    await put('b', 0)
    await put('c', 60_000)
    expect(lines).toEqual([])
  })

  it('cuts off a client that asks for thousands of filters', async () => {
    const subscriptions = Array.from({ length: 3000 }, (_, i) => ({ topic: `f/${i}`, qos: 0 as const }))
    await raw(hello('greedy'), generate({ cmd: 'subscribe', messageId: 1, subscriptions }))
    expect(lines.join()).toContain(
      'client "greedy" at 127.0.0.1 was cut off: it asked for more than 100 filters',
    )
  })

  it('makes a client that sends too fast wait, and loses nothing of it', async () => {
    await broker.close()
    await start({ maxPacketsPerSecond: 1000 })
    const begin = performance.now()
    const packets = Array.from({ length: 3000 }, (_, i) =>
      generate({ cmd: 'publish', topic: 'fast', payload: String(i), qos: 0, dup: false, retain: false }),
    )
    void raw(hello('fast'), Buffer.concat(packets))
    await vi.waitFor(() => expect(taken).toHaveLength(3000), { timeout: 20_000 })
    expect(taken.map(({ payload }) => Number(Buffer.from(payload).toString()))).toEqual([
      ...Array(3000).keys(),
    ])
    expect(performance.now() - begin).toBeGreaterThan(1500)
    expect(lines.join()).toContain('sends more than 1000 packets/s; it is made to wait')
  })

  it('hears another client at once while one is made to wait', async () => {
    await broker.close()
    await start({ maxPacketsPerSecond: 1000 })
    const packets = Array.from({ length: 20_000 }, () =>
      generate({ cmd: 'publish', topic: 'flood', payload: 'x', qos: 0, dup: false, retain: false }),
    )
    void raw(hello('flood'), Buffer.concat(packets))
    await vi.waitFor(() => expect(lines.join()).toContain('made to wait'))
    const sensor = await client()
    await sensor.publishAsync('speed', '1800', { qos: 1 })
    await vi.waitFor(() => expect(taken.some(({ topic }) => topic === 'speed')).toBe(true))
    expect(taken.length).toBeLessThan(20_000)
  })

  it('closes connections that do not log in while many of their address wait, and lets sensors stay', async () => {
    await broker.close()
    await start({ maxUnknown: 5 })
    const sensor = await client()
    const silent = Array.from({ length: 8 }, () => raw(Buffer.alloc(0)))
    await Promise.race(silent)
    expect(lines.join()).toContain('too many connections')
    await sensor.publishAsync('speed', '1500', { qos: 1 })
    expect(taken.some(({ topic }) => topic === 'speed')).toBe(true)
  })

  it('lets a sensor in although all room for those who have not logged in is taken', async () => {
    await broker.close()
    await start({ maxUnknown: 50, maxConnections: 20 })
    const silent = Array.from({ length: 15 }, () => raw(Buffer.alloc(0)))
    await Promise.race(silent)
    const sensor = await client({ reconnectPeriod: 0 })
    await sensor.publishAsync('speed', '1500', { qos: 1 })
    expect(lines.join()).toContain('that had not logged in was closed for others')
  })

  it.each(['headrace/status', 'headrace/mill/alarms/overspeed', 'mill/simulator/command/jet-1'])(
    'lets nobody but the server publish to %s',
    async (topic) => {
      const forger = await client({ reconnectPeriod: 0 })
      const gone = new Promise<void>((resolve) => forger.once('close', () => resolve()))
      forger.publish(topic, 'offline', { retain: true })
      await gone
      expect(taken.filter((message) => message.topic === topic)).toEqual([])
      expect(lines.join()).toContain(`only this server publishes to "${topic}"`)
    },
  )

  it('writes a topic into the log without what would look like another line', async () => {
    const payload = Buffer.alloc(100_000)
    const topic = 'a\nSet-up code FAKE\u001b[2J'
    await raw(
      hello('liar'),
      generate({ cmd: 'publish', topic, payload, qos: 1, messageId: 1, dup: false, retain: false }),
    )
    expect(lines.join('')).toContain('to topic "a\\u{a}Set-up code FAKE\\u{1b}[2J" was refused')
  })

  it('does not listen on a network with a password that could be guessed', async () => {
    const open = createEmbeddedBroker({
      clock: systemClock,
      port: 0,
      host: '0.0.0.0',
      user: 'm',
      password: 'x',
    })
    await expect(open.start()).rejects.toThrow('a password of 1 characters: it could be guessed')
  })
})
