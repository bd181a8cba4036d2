import { connect, createServer, type Server, type Socket } from 'node:net'
import { afterEach, describe, expect, it, vi } from 'vitest'
import { systemClock } from '../../../../server/clock.ts'
import {
  createEmbeddedBroker,
  type EmbeddedBroker,
  type EmbeddedBrokerOptions,
} from '../../../../server/ingest/broker/embedded.ts'
import { collect, foreignClient, messageOf } from '../../../support/brokerEvents.ts'

describe('createEmbeddedBroker', () => {
  const opened: EmbeddedBroker[] = []
  const ended: (() => unknown)[] = []

  function make(options: Partial<EmbeddedBrokerOptions> = {}) {
    const lines: string[] = []
    const broker = createEmbeddedBroker({
      clock: systemClock,
      port: 0,
      log: (line) => lines.push(line),
      ...options,
    })
    opened.push(broker)
    return { broker, lines }
  }

  async function client(broker: EmbeddedBroker, options = {}) {
    const one = await foreignClient(broker.port(), options)
    ended.push(() => one.endAsync(true))
    return one
  }

  afterEach(async () => {
    await Promise.all(ended.splice(0).map((end) => end()))
    await Promise.all(opened.splice(0).map((broker) => broker.close()))
  })

  it('says in one sentence that its port is taken, and by what to do about it', async () => {
    const other = await listening()
    ended.push(() => other.close())
    const { port } = other.address() as { port: number }
    const { broker } = make({ port })
    await expect(broker.start()).rejects.toThrow(
      `port ${port} on 127.0.0.1 is already in use; stop the program that uses it or choose another MQTT port`,
    )
    expect(broker.status().connected).toBe(false)
  })

  it('listens on loopback unless told otherwise', async () => {
    const { broker } = make()
    await broker.start()
    expect(broker.status().name).toBe(`embedded broker on 127.0.0.1:${broker.port()}`)
  })

  it.each([[{}], [{ user: 'mill' }], [{ password: 'x' }], [{ user: '', password: '' }]])(
    'does not listen on other addresses with %j',
    async (credentials) => {
      const { broker } = make({ host: '0.0.0.0', ...credentials })
      await expect(broker.start()).rejects.toThrow('does not listen on 0.0.0.0 without a user and a password')
    },
  )

  it('listens on other addresses with user and password, and lets in nobody else', async () => {
    const { broker, lines } = make({ host: '0.0.0.0', user: 'mill', password: 'headrace-at-the-mill' })
    await broker.start()
    const wrong = foreignClient(broker.port(), { username: 'mill', password: 'Headrace-at-the-mill' })
    await expect(wrong).rejects.toThrow('Bad username or password')
    await expect(foreignClient(broker.port())).rejects.toThrow('Bad username or password')
    const right = await client(broker, { username: 'mill', password: 'headrace-at-the-mill' })
    expect(right.connected).toBe(true)
    expect(lines[0]).toContain('wrong user name or password')
    expect(lines.join()).not.toContain('Headrace-at')
  })

  it('refuses MQTT 5 with a line that names the client and the remedy', async () => {
    const { broker, lines } = make()
    await broker.start()
    await expect(foreignClient(broker.port(), { protocolVersion: 5, clientId: 'gauge-7' })).rejects.toThrow()
    expect(lines[0]).toMatch(
      /client "gauge-7" at 127\.0\.0\.1 speaks MQTT 5.*set the protocol version to 3\.1\.1/,
    )
  })

  it('keeps no session for a client that asks for one', async () => {
    const { broker, lines } = make()
    await broker.start()
    const options = { clean: false, clientId: 'viewer' }
    const first = await client(broker, options)
    await first.subscribeAsync('mill/level', { qos: 1 })
    await first.endAsync(true)
    broker.publish('mill/level', '1')
    const again = await client(broker, options)
    const heard: string[] = []
    again.on('message', (topic) => heard.push(topic))
    // What was kept would come before the answer to a subscription.
    await again.subscribeAsync('mill/other')
    expect(heard).toEqual([])
    expect(lines[0]).toContain('client "viewer" at 127.0.0.1 asked for a persistent session')
  })

  it('refuses a keep-alive of 0 or above its limit with a line that says so', async () => {
    const { broker, lines } = make({ keepaliveLimitS: 120 })
    await broker.start()
    await expect(foreignClient(broker.port(), { keepalive: 300 })).rejects.toThrow()
    expect(lines[0]).toContain('its keep-alive is 300 s; set it to 1 … 120 s')
  })

  it.each([
    ['that begins with "$"', '$SYS/other/new/clients'],
    ['of more than 32 levels', Array.from({ length: 40 }, () => 'a').join('/')],
    ['of more than 512 characters', 'a'.repeat(600)],
    ['with control characters', 'mill/le\u0001vel'],
  ])('cuts off who publishes to a topic %s', async (why, topic) => {
    const { broker, lines } = make()
    broker.subscribe(['#'])
    await broker.start()
    const all = collect(broker)
    const one = await client(broker)
    const closed = new Promise<void>((resolve) => one.once('close', () => resolve()))
    one.publish(topic, 'x')
    await closed
    expect(all).toEqual([])
    expect(lines[0]).toContain(why)
  })

  it('sends no "$" topics to clients', async () => {
    const { broker } = make()
    await broker.start()
    const one = await client(broker)
    const granted = await one.subscribeAsync('$SYS/#').catch((error: Error) => error)
    expect(granted).toBeInstanceOf(Error)
  })

  it('closes the connection on an oversize packet that waits for an answer', async () => {
    const { broker, lines } = make({ maxPacketBytes: 1000 })
    await broker.start()
    const one = await client(broker)
    const closed = new Promise<void>((resolve) => one.once('close', () => resolve()))
    one.publish('mill/level', Buffer.alloc(2000), { qos: 1 })
    await closed
    expect(broker.counters().oversize).toBe(1)
    expect(lines[0]).toMatch(/a packet of 2\d\d\d bytes .* to topic "mill\/level" was refused/)
  })

  it('takes no more connections from one address than allowed', async () => {
    const { broker } = make({ maxConnectionsPerAddress: 2 })
    await broker.start()
    const first = await openSocket(broker.port())
    const second = await openSocket(broker.port())
    ended.push(() => first.destroy())
    const third = await openSocket(broker.port())
    await closing(third)
    // and lets in another when one has gone
    second.destroy()
    await vi.waitFor(() => client(broker))
  })

  it('retains no more topics than allowed; live messages go on', async () => {
    const { broker } = make({ maxRetained: 1 })
    broker.subscribe(['mill/#'])
    await broker.start()
    const one = await client(broker)
    const second = messageOf(broker, 'mill/b')
    one.publish('mill/a', '1', { retain: true })
    one.publish('mill/b', '2', { retain: true })
    await second
    const kept: string[] = []
    one.on('message', (topic) => kept.push(topic))
    const answered = new Promise<void>((resolve) =>
      one.on('message', (topic) => topic === 'end' && resolve()),
    )
    await one.subscribeAsync(['mill/#', 'end'])
    one.publish('end', '')
    await answered
    expect(kept).toEqual(['mill/a', 'end'])
  })

  it('delivers the last will of a client that is cut off', async () => {
    const { broker } = make()
    broker.subscribe(['mill/status'])
    await broker.start()
    const will = messageOf(broker, 'mill/status')
    const one = await client(broker, { will: { topic: 'mill/status', payload: Buffer.from('gone') } })
    one.stream.destroy()
    expect(Buffer.from((await will).payload).toString()).toBe('gone')
  })

  it('survives rubbish instead of MQTT', async () => {
    const { broker } = make()
    await broker.start()
    const socket = await openSocket(broker.port())
    socket.write('GET / HTTP/1.1\r\n\r\n')
    await closing(socket)
    expect((await client(broker)).connected).toBe(true)
  })
})

function listening(): Promise<Server> {
  return new Promise((resolve) => {
    const server = createServer().listen(0, '127.0.0.1', () => resolve(server))
  })
}

function openSocket(port: number): Promise<Socket> {
  return new Promise((resolve) => {
    const socket = connect(port, '127.0.0.1', () => resolve(socket))
    socket.on('error', () => {})
  })
}

function closing(socket: Socket): Promise<void> {
  if (socket.closed) return Promise.resolve()
  socket.resume()
  return new Promise((resolve) => socket.once('close', () => resolve()))
}
