import type { AddressInfo } from 'node:net'
import { createServer } from 'node:net'
import { Aedes } from 'aedes'
import type { MqttClient } from 'mqtt'
import { afterAll, beforeAll, describe, expect, it } from 'vitest'
import type { AlarmView, JournalReply } from '../../server/wire/alarm.ts'
import type { CounterView, HistoryReply } from '../../server/wire/replies.ts'
import { millPlant, powerAndSpeed } from '../support/mill.ts'
import { connectPublisher, getJson, until } from '../support/publisher.ts'
import { scratchFolder } from '../support/scratch.ts'
import { type ServerProcess, startServer } from '../support/serverProcess.ts'

const POWER_KW = 3.6
const KILLS = 6

const PLANT = millPlant(powerAndSpeed('100 ms'), { latching: true })

describe('a server that is killed while it works', () => {
  const scratch = scratchFolder()
  const sockets = createServer()
  let broker: Aedes
  let client: MqttClient
  let mqttUrl: string
  let publishing: NodeJS.Timeout
  let first = 0

  beforeAll(async () => {
    broker = await Aedes.createBroker()
    sockets.on('connection', (socket) => broker.handle(socket))
    await new Promise<void>((resolve) => sockets.listen(0, '127.0.0.1', resolve))
    mqttUrl = `mqtt://127.0.0.1:${(sockets.address() as AddressInfo).port}`
    client = await connectPublisher(mqttUrl)
    publishing = setInterval(
      () => client.publish('mill/power', JSON.stringify({ kw: POWER_KW, at: Date.now() })),
      100,
    )
  })

  afterAll(async () => {
    clearInterval(publishing)
    await client.endAsync(true)
    await new Promise<void>((resolve) => broker.close(() => resolve()))
    sockets.close()
    scratch.remove()
  })

  const start = () => {
    const plant = scratch.file('mill.yaml', PLANT)
    return startServer(['--plant', plant, '--mqtt-url', mqttUrl, '--data', scratch.path, '--http-port', '0'])
  }

  const energy = async (server: ServerProcess) => {
    const counters = await getJson<CounterView[]>(`${server.url}/api/plants/mill/counters`)
    return counters.find((counter) => counter.id === 'energyGenerated')!
  }

  it('loses at most a second of energy each time, counts nothing twice and never runs backwards', async () => {
    let last = 0
    for (let kill = 0; kill < KILLS; kill++) {
      const server = await start()
      const before = await until(
        () => energy(server),
        (counter) => counter.value > last + 3600,
      )
      first ||= before.since
      expect(before.value).toBeGreaterThanOrEqual(last)
      await new Promise((resolve) => setTimeout(resolve, 300 + 130 * kill))
      last = Math.max(last, (await energy(server)).value - 3600)
      await server.stop('SIGKILL')
    }
    const server = await start()
    const { value, at, since } = await until(
      () => energy(server),
      (counter) => counter.value > last + 3600,
    )
    await server.stop()
    expect(since).toBe(first)
    // constant power, so the truth is power × time; a lost second costs 3600 J, a doubled one gives it
    const truth = POWER_KW * 1000 * ((at! - since) / 1000)
    expect(value).toBeLessThanOrEqual(truth + 3600)
    expect(value).toBeGreaterThanOrEqual(truth - 3600 * (KILLS + 1))
  })

  /** The one alarm of the plant file among those that every plant has. */
  const overSpeed = async (server: ServerProcess) =>
    (await getJson<AlarmView[]>(`${server.url}/api/plants/mill/alarms`)).find((one) => one.id === 'over')

  it('knows its alarms, its journal and its history again', async () => {
    const server = await start()
    await until(
      () => overSpeed(server),
      (alarm) => alarm !== undefined,
    )
    client.publish('mill/speed', '1770')
    const before = await until(
      () => overSpeed(server),
      (alarm) => alarm?.state === 'unacknowledged',
    )
    await new Promise((resolve) => setTimeout(resolve, 2500))
    const killedAt = Date.now()
    await server.stop('SIGKILL')
    const again = await start()
    const alarm = await overSpeed(again)
    expect(alarm).toMatchObject({ state: 'unacknowledged', raisedAt: before!.raisedAt, active: true })
    expect(alarm!.peak).toBeCloseTo((1770 * 2 * Math.PI) / 60, 6)
    const journal = await getJson<JournalReply>(`${again.url}/api/plants/mill/journal`)
    expect(journal.entries.map((entry) => entry.event)).toContain('raise')
    // rows are handed over once a second and committed at once: what is older than 2 s is there
    const history = await getJson<HistoryReply>(
      `${again.url}/api/plants/mill/history?figures=speed&from=${before!.raisedAt! - 1000}&to=${killedAt}&points=10`,
    )
    expect(history.figures[0]!.max.some((value) => value !== null)).toBe(true)
    await again.stop()
  })

  it('ends within seconds when it is asked to, with everything written', async () => {
    const server = await start()
    await until(
      () => energy(server),
      (counter) => counter.at !== null && Date.now() - counter.at < 1000,
    )
    const before = await energy(server)
    expect(await server.stop('SIGINT')).toBe(0)
    const again = await start()
    expect((await energy(again)).value).toBeGreaterThanOrEqual(before.value)
    await again.stop()
  })
})
