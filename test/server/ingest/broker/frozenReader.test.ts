import { connect, type Socket } from 'node:net'
import { Duplex } from 'node:stream'
import { afterEach, beforeEach, describe, expect, it } from 'vitest'
import { systemClock } from '../../../../server/clock.ts'
import { createEmbeddedBroker, type EmbeddedBroker } from '../../../../server/ingest/broker/embedded.ts'
import { writePatiently } from '../../../../server/ingest/broker/slowReaders.ts'
import { collect, foreignClient, messageOf } from '../../../support/brokerEvents.ts'

/** MQTT 3.1.1 § 3.1 and § 3.8, by hand: CONNECT as "a", clean, keep-alive 60 s; SUBSCRIBE to "#" with QoS 0. */
const CONNECT = [0x10, 13, 0, 4, ...Buffer.from('MQTT'), 4, 2, 0, 60, 0, 1, 0x61]
const SUBSCRIBE = [0x82, 6, 0, 1, 0, 1, 0x23, 0]
const CONNACK_AND_SUBACK = 4 + 5

/** Small ones take all the places of the library long before they take much memory. */
const PAYLOAD = Buffer.alloc(1000)
/** 20 MB: Linux takes some 6 MB for a connection that is never read. */
const FILLING = 20_000

describe('a client that subscribes to everything and then does not read', () => {
  let broker: EmbeddedBroker
  let frozen: Socket
  let lines: string[]
  /** Stands still: no time limit of the broker can come to the rescue. */
  let mono: number

  beforeEach(async () => {
    lines = []
    mono = 0
    broker = createEmbeddedBroker({
      clock: { ...systemClock, mono: () => mono },
      port: 0,
      drainTimeoutMs: 600_000,
      log: (line) => lines.push(line),
    })
    broker.subscribe(['#'])
    await broker.start()
    frozen = await frozenReader(broker.port())
  })

  afterEach(async () => {
    frozen.destroy()
    await broker.close()
  })

  it('holds up nobody else: a sensor’s readings come in, also those that fill its buffers', async () => {
    const sensor = await foreignClient(broker.port())
    const all = collect(broker)
    const end = messageOf(broker, 'mill/end')
    for (let i = 0; i < FILLING; i++) sensor.publish('mill/speed', PAYLOAD)
    sensor.publish('mill/end', '')
    await end
    await sensor.endAsync(true)
    expect(all).toHaveLength(FILLING + 1)
    // else the client was not frozen
    expect(broker.counters().forwardDropped).toBeGreaterThan(0)
  })

  it('is told of once, as reading too slowly, and misses messages that are counted', async () => {
    await fillUp(broker)
    await fillUp(broker)
    expect(lines).toEqual(['broker: client "a" at 127.0.0.1 reads too slowly; messages are left out for it'])
    expect(broker.counters().forwardDropped).toBeGreaterThan(0)
  })

  it('is cut off when it has not caught up in time', async () => {
    const cut = new Promise<void>((resolve) => frozen.once('close', () => resolve()))
    await fillUp(broker)
    mono += 600_000
    await fillUp(broker)
    frozen.resume()
    await cut
    expect(lines.at(-1)).toBe('broker: client "a" at 127.0.0.1 did not read and was cut off')
  })
})

describe('writePatiently', () => {
  it('asks for waiting only when four backlogs lie ready, however small the buffer of the stream', () => {
    const stuck = new Duplex({ highWaterMark: 10, read() {}, write() {} })
    writePatiently(stuck, 1000)
    const answers = Array.from({ length: 5 }, () => stuck.write(Buffer.alloc(1000)))
    expect(answers).toEqual([true, true, true, true, false])
    stuck.destroy()
  })
})

describe('a queue of messages behind a busy client', () => {
  it('is handed on without running out of stack, in order', async () => {
    const broker = createEmbeddedBroker({ clock: systemClock, port: 0 })
    broker.subscribe(['mill/#'])
    await broker.start()
    const viewer = await foreignClient(broker.port())
    await viewer.subscribeAsync('busy')
    const all = collect(broker)
    const last = messageOf(broker, 'mill/4799')
    // 100 take all places of the library; what queues behind them goes to this process only
    for (let i = 0; i < 100; i++) broker.publish('busy', '')
    for (let i = 0; i < 4800; i++) broker.publish(`mill/${i}`, '')
    await last
    await viewer.endAsync(true)
    await broker.close()
    expect(all.map(([topic]) => topic)).toEqual(Array.from({ length: 4800 }, (_, i) => `mill/${i}`))
  })
})

async function frozenReader(port: number): Promise<Socket> {
  const socket = connect(port, '127.0.0.1')
  socket.on('error', () => {})
  socket.write(Buffer.from([...CONNECT, ...SUBSCRIBE]))
  let answered = 0
  for await (const chunk of socket.iterator({ destroyOnReturn: false })) {
    answered += (chunk as Buffer).length
    if (answered >= CONNACK_AND_SUBACK) break
  }
  return socket.pause()
}

/** Publishes until the broker leaves out a message more. */
async function fillUp(broker: EmbeddedBroker): Promise<void> {
  const before = broker.counters().forwardDropped
  while (broker.counters().forwardDropped === before) {
    broker.publish('mill/filler', PAYLOAD)
    await new Promise((resolve) => setImmediate(resolve))
  }
}
