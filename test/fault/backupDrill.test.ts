import { execFile } from 'node:child_process'
import { join } from 'node:path'
import { promisify } from 'node:util'
import type { MqttClient } from 'mqtt'
import { afterAll, beforeAll, expect, it } from 'vitest'
import type { AlarmView, JournalReply } from '../../server/wire/alarm.ts'
import type { CounterView, HistoryReply } from '../../server/wire/replies.ts'
import { millPlant, powerAndSpeed } from '../support/mill.ts'
import { connectPublisher, getJson, until } from '../support/publisher.ts'
import { root } from '../support/root.ts'
import { scratchFolder } from '../support/scratch.ts'
import { type ServerProcess, startServer } from '../support/serverProcess.ts'
import { type SharedBroker, sharedBroker } from '../support/sharedBroker.ts'

const PLANT = millPlant(powerAndSpeed('10 ms'), { latching: true })
const NAME = 'Ada'
const PASSWORD = 'turn the water on'
const PERIOD_MS = 10
/** Rows are durable after a second at the latest; this is twice that. */
const DURABLE_MS = 2000

const scratch = scratchFolder()
const at = (name: string) => join(scratch.path, name)
const plant = scratch.file('mill.yaml', PLANT)
let broker: SharedBroker
let client: MqttClient
let publishing: NodeJS.Timeout

beforeAll(async () => {
  broker = await sharedBroker()
  client = await connectPublisher(broker.url)
  publishing = setInterval(
    () => client.publish('mill/power', JSON.stringify({ kw: 3 + Math.random(), at: Date.now() })),
    PERIOD_MS,
  )
})
afterAll(async () => {
  clearInterval(publishing)
  await client.endAsync(true)
  await broker.close()
  scratch.remove()
})

const start = (data: string) =>
  startServer(['--plant', plant, '--mqtt-url', broker.url, '--data', at(data), '--http-port', '0'])

/** A command of the server, as somebody types it. @returns what it says. */
async function command(...args: string[]): Promise<string> {
  const { stdout } = await promisify(execFile)(process.execPath, ['dist/server/main.js', ...args], {
    cwd: root,
    timeout: 60_000,
  })
  return stdout
}

const of = <T>(server: ServerProcess, path: string) => getJson<T>(`${server.url}/api/plants/mill/${path}`)
const energy = async (server: ServerProcess) =>
  (await of<CounterView[]>(server, 'counters')).find(({ id }) => id === 'energyGenerated')!
const overSpeed = async (server: ServerProcess) =>
  (await of<AlarmView[]>(server, 'alarms')).find(({ id }) => id === 'over')
const journal = async (server: ServerProcess) =>
  (await of<JournalReply>(server, 'journal?limit=1000')).entries

function post(server: ServerProcess, path: string, body: object): Promise<Response> {
  return fetch(server.url + path, {
    method: 'POST',
    headers: { 'content-type': 'application/json' },
    body: JSON.stringify(body),
  })
}

// What is checked is the rule of the house that a backup holds all up to its moment; no outside source.
it('backed up under load, killed and restored elsewhere: counters, alarms, people and history are as they were', async () => {
  const server = await start('first')
  const code = /Set-up code (\S+):/.exec(server.output())![1]!
  expect((await post(server, '/api/setup', { name: NAME, code, password: PASSWORD })).status).toBe(200)
  const begun = Date.now()
  client.publish('mill/speed', '1770')
  const raised = await until(
    () => overSpeed(server),
    (alarm) => alarm?.state === 'unacknowledged',
  )
  await until(
    () => energy(server),
    (counter) => counter.value > 3 * 3600,
  )
  await new Promise((resolve) => setTimeout(resolve, 3000))
  const known = { energy: await energy(server), journal: await journal(server), at: Date.now() }
  expect(await command('--backup', at('backup'), '--data', at('first'), '--plant', plant)).toMatch(
    /^Backed up to .*backup: \d+ files/,
  )
  // what is shown of a counter is up to a second older than what is stored
  await new Promise((resolve) => setTimeout(resolve, DURABLE_MS))
  const later = await energy(server)
  const span = `history?figures=activePower,speed&from=${begun}&to=${known.at - DURABLE_MS}&points=500`
  const history = await of<HistoryReply>(server, span)
  expect(history.figures[0]!.mean.filter((value) => value !== null).length).toBeGreaterThan(50)
  await server.stop('SIGKILL')
  clearInterval(publishing)

  expect(await command('--restore', at('backup'), '--data', at('second'))).toMatch(/^Restored to .*second/)
  const again = await start('second')
  const counter = await energy(again)
  expect(counter.since).toBe(known.energy.since)
  // Counters are stored once a second: the restored one is not older than that, and not newer than the kill.
  expect(counter.value).toBeGreaterThanOrEqual(known.energy.value - 4 * 1000 * (DURABLE_MS / 1000))
  expect(counter.value).toBeLessThanOrEqual(later.value)
  expect(await overSpeed(again)).toMatchObject({ state: 'unacknowledged', raisedAt: raised!.raisedAt })
  expect((await journal(again)).slice(-known.journal.length)).toEqual(known.journal)
  expect(await of<HistoryReply>(again, span)).toEqual(history)
  expect((await post(again, '/api/session', { name: NAME, password: PASSWORD })).status).toBe(200)
  expect((await post(again, '/api/session', { name: NAME, password: 'another one here' })).status).toBe(401)
  await again.stop()
}, 120_000)
