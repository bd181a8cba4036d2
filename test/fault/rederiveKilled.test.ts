import type { AddressInfo } from 'node:net'
import { createServer } from 'node:net'
import { setTimeout as pause } from 'node:timers/promises'
import { Aedes } from 'aedes'
import type { MqttClient } from 'mqtt'
import { afterAll, beforeAll, describe, expect, it } from 'vitest'
import type { CounterView, HealthReply, HistoryReply } from '../../server/wire/replies.ts'
import { millPlant, powerAndSpeed } from '../support/mill.ts'
import { connectPublisher, getJson, until } from '../support/publisher.ts'
import { scratchFolder } from '../support/scratch.ts'
import { type ServerProcess, startServer } from '../support/serverProcess.ts'

const POWER_KW = 3.6
const SECONDS = 5400
const QUARTER_MS = 900_000
/** From the middle of a quarter of an hour three hours ago, so that seven of them are touched. */
const BEGIN = Math.floor(Date.now() / QUARTER_MS) * QUARTER_MS - 12 * QUARTER_MS + QUARTER_MS / 2
/** When it is killed after it was ready [ms]: before, within and after the derivation, and while its result is taken over. */
const KILLS = [400, 1200, 2200, 3000, 4000, 5000]

// The truth is power × time, by hand.
describe('a server that is killed while it derives anew what came late', () => {
  const scratch = scratchFolder()
  const sockets = createServer()
  let broker: Aedes
  let client: MqttClient
  let mqttUrl: string
  let server: ServerProcess

  beforeAll(async () => {
    broker = await Aedes.createBroker()
    sockets.on('connection', (socket) => broker.handle(socket))
    await new Promise<void>((resolve) => sockets.listen(0, '127.0.0.1', resolve))
    mqttUrl = `mqtt://127.0.0.1:${(sockets.address() as AddressInfo).port}`
    client = await connectPublisher(mqttUrl)
  })

  afterAll(async () => {
    await server.stop()
    await client.endAsync(true)
    await new Promise<void>((resolve) => broker.close(() => resolve()))
    sockets.close()
    scratch.remove()
  })

  const start = () => {
    const plant = scratch.file('mill.yaml', millPlant(powerAndSpeed('1 s')))
    return startServer(['--plant', plant, '--mqtt-url', mqttUrl, '--data', scratch.path, '--http-port', '0'])
  }
  const health = (server: ServerProcess) => getJson<HealthReply>(`${server.url}/api/health`)
  const waiting = async (server: ServerProcess) =>
    (await health(server)).queues.find(({ name }) => name.startsWith('quarters of an hour'))!
  const energy = async (server: ServerProcess) =>
    (await getJson<CounterView[]>(`${server.url}/api/plants/mill/counters`)).find(
      ({ id }) => id === 'energyGenerated',
    )!

  /** Everything that the device had kept. */
  function sendKept(): void {
    for (let i = 0; i < SECONDS; i++) {
      const at = BEGIN + i * 1000
      client.publish('mill/power', JSON.stringify({ kw: POWER_KW, at }))
    }
  }

  it('loses nothing and counts nothing twice', async () => {
    server = await start()
    await until(
      () => health(server),
      ({ source }) => source.connected,
    )
    sendKept()
    await until(
      () => health(server),
      ({ topics }) => topics.find(({ topic }) => topic === 'mill/power')!.received === SECONDS,
      30_000,
    )
    // readings are durable within two seconds
    await pause(2500)
    for (const kill of KILLS) {
      await server.stop('SIGKILL')
      server = await start()
      await pause(kill)
    }
    const queue = await until(
      () => waiting(server),
      ({ length }) => length === 0,
      60_000,
    )
    expect(queue.dropped).toBe(0)
    await pause(1500)
    const truth = POWER_KW * 1000 * (SECONDS - 1)
    const counted = await energy(server)
    expect(Math.abs(counted.value - truth)).toBeLessThan(3600)
    expect(counted.since).toBe(BEGIN - QUARTER_MS / 2)
    // nothing is known of the rest of the time, which is told once
    const silent = (counted.at! - counted.since) / 1000 - (SECONDS - 1)
    expect(Math.abs(counted.gapSeconds - silent)).toBeLessThan(5)
    const span = `from=${BEGIN}&to=${BEGIN + SECONDS * 1000}&points=6`
    const { figures } = await getJson<HistoryReply>(
      `${server.url}/api/plants/mill/history?figures=activePower&${span}`,
    )
    for (const mean of figures[0]!.mean) expect(mean).toBeCloseTo(POWER_KW * 1000, 6)
    // sent once more, as a device does that heard no answer, it changes nothing
    sendKept()
    await until(
      () => waiting(server),
      ({ length }) => length > 6,
      30_000,
    )
    await until(
      () => waiting(server),
      ({ length }) => length === 0,
      60_000,
    )
    await pause(1500)
    expect(Math.abs((await energy(server)).value - truth)).toBeLessThan(3600)
  }, 240_000)
})
