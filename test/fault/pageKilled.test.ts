import { readdirSync, readFileSync } from 'node:fs'
import { type AddressInfo, createServer } from 'node:net'
import { Aedes } from 'aedes'
import type { MqttClient } from 'mqtt'
import { afterAll, beforeAll, expect, it } from 'vitest'
import type { SessionReply } from '../../server/wire/access.ts'
import type { JournalReply } from '../../server/wire/alarmReplies.ts'
import type { HealthReply } from '../../server/wire/replies.ts'
import { type HookServer, startHookServer } from '../support/hookServer.ts'
import { FAST_TACHO, millNotify, millPlant } from '../support/mill.ts'
import { connectPublisher, getJson, until } from '../support/publisher.ts'
import { scratchFolder } from '../support/scratch.ts'
import { type ServerProcess, startServer } from '../support/serverProcess.ts'

const KILLS = 20
/** The speed is published this often, and is beyond the limit in every second stretch of so many [ms]. */
const PERIOD_MS = 20
const STRETCH = 25
/** From the end of one page to the answer of the next [ms]: two seconds, and many times that on a busy machine. */
const BACK_WITHIN_MS = 60_000

const PLANT = millPlant([FAST_TACHO])

const scratch = scratchFolder()
const sockets = createServer()
let broker: Aedes
let client: MqttClient
let hook: HookServer
let server: ServerProcess
let isPublishing = true
let published = 0
/** Stretches beyond the limit that were begun. */
let raised = 0

beforeAll(async () => {
  broker = await Aedes.createBroker()
  sockets.on('connection', (socket) => broker.handle(socket))
  await new Promise<void>((resolve) => sockets.listen(0, '127.0.0.1', resolve))
  const url = `mqtt://127.0.0.1:${(sockets.address() as AddressInfo).port}`
  hook = await startHookServer()
  process.env['HEADRACE_NOTIFY_SECRET_HOOK'] = `whsec_${Buffer.alloc(24, 1).toString('base64')}`
  const plant = scratch.file('mill.yaml', PLANT)
  const notify = scratch.file('notify.yaml', millNotify(hook.url))
  server = await startServer([
    '--plant',
    plant,
    '--mqtt-url',
    url,
    '--data',
    scratch.path,
    '--http-port',
    '0',
    '--notify',
    notify,
  ])
  client = await connectPublisher(url)
  await until(
    () => getJson<HealthReply>(`${server.url}/api/health`),
    (health) => health.source.connected,
  )
})

afterAll(async () => {
  isPublishing = false
  delete process.env['HEADRACE_NOTIFY_SECRET_HOOK']
  await client.endAsync(true)
  await new Promise<void>((resolve) => broker.close(() => resolve()))
  sockets.close()
  await server.stop()
  await hook.close()
  scratch.remove()
})

/** A value of its own each time, so that none is taken for the one before. */
async function publish(): Promise<void> {
  while (isPublishing) {
    const isOver = Math.floor(published / STRETCH) % 2 === 1
    if (isOver && published % STRETCH === 0) raised++
    published++
    const value = (isOver ? 1700 : 1500) + (published % 7)
    await client.publishAsync('mill/speed', String(value), { qos: 1 })
    await new Promise((resolve) => setTimeout(resolve, PERIOD_MS))
  }
}

/** Processes that this server started and that serve its page. */
function pageOf(parent: number): number[] {
  return readdirSync('/proc')
    .filter((name) => /^\d+$/.test(name))
    .map(Number)
    .filter((pid) => {
      try {
        const isOurs =
          readFileSync(`/proc/${pid}/stat`, 'utf8').split(') ')[1]!.split(' ')[1] === String(parent)
        return isOurs && readFileSync(`/proc/${pid}/cmdline`, 'utf8').includes('page.js')
      } catch {
        return false
      }
    })
}

async function signIn(): Promise<string> {
  const code = /Set-up code (\S+):/.exec(server.output())![1]!
  const made = await fetch(`${server.url}/api/setup`, {
    method: 'POST',
    headers: { 'content-type': 'application/json' },
    body: JSON.stringify({ name: 'Ada', code, password: 'turn the water on' }),
  })
  return made.headers.getSetCookie()[0]!.split(';')[0]!
}

const health = () => getJson<HealthReply>(`${server.url}/api/health`)

// What is checked is the rule of the house that the watch goes on whatever happens to a page; no outside source.
it(`loses no reading, transition or message while its page is killed ${KILLS} times, and sessions hold`, async () => {
  const cookie = await signIn()
  const publishing = publish()
  for (let kill = 0; kill < KILLS; kill++) {
    const [page, ...more] = pageOf(server.process.pid!)
    expect(more).toEqual([])
    process.kill(page!, 'SIGKILL')
    await until(
      async () => pageOf(server.process.pid!),
      ([next]) => next !== undefined && next !== page,
      BACK_WITHIN_MS,
    )
    const { pageRestarts } = await until(health, () => true, BACK_WITHIN_MS)
    expect(pageRestarts).toBe(kill + 1)
    const session = await fetch(`${server.url}/api/session`, { headers: { cookie } })
    expect(((await session.json()) as SessionReply).name).toBe('Ada')
    // out of step with everything
    await new Promise((resolve) => setTimeout(resolve, 37 * (kill % 9)))
  }
  isPublishing = false
  await publishing
  const end = await until(health, ({ stages }) => stageOf(stages, 'readings') >= published)
  expect(stageOf(end.stages, 'readings')).toBe(published)
  expect(stageOf(end.stages, 'history')).toBeGreaterThanOrEqual(published)
  const { entries } = await getJson<JournalReply>(`${server.url}/api/plants/mill/journal?limit=1000`)
  const raises = entries.filter(({ alarm, event }) => alarm === 'over' && event === 'raise')
  expect(raises).toHaveLength(raised)
  // one event is one story: nobody is told anew of what they have not answered
  const events = [...new Set(raises.map(({ episode }) => `mill/${episode}`))]
  const told = await until(
    async () => hook.requests.map(({ body }) => JSON.parse(body) as Told),
    (all) =>
      events.every((event) =>
        all.some(({ type, data }) => type === 'alarm.raised' && data.incident === event),
      ),
  )
  expect(new Set(told.map(({ data }) => data.id)).size).toBe(told.length)
  expect(raised).toBeGreaterThan(KILLS / 2)
}, 600_000)

interface Told {
  type: string
  data: { id: string; incident: string }
}

function stageOf(stages: HealthReply['stages'], name: string): number {
  return stages.find((stage) => stage.name === name)!.total
}
