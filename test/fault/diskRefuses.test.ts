import { execFileSync } from 'node:child_process'
import { statSync } from 'node:fs'
import { join } from 'node:path'
import type { MqttClient } from 'mqtt'
import { afterAll, beforeAll, expect, it } from 'vitest'
import type { AlarmView, JournalReply } from '../../server/wire/alarm.ts'
import type { HealthReply } from '../../server/wire/replies.ts'
import { type HookServer, startHookServer } from '../support/hookServer.ts'
import { FAST_TACHO, millNotify, millPlant } from '../support/mill.ts'
import { connectPublisher, getJson, until } from '../support/publisher.ts'
import { scratchFolder } from '../support/scratch.ts'
import { type ServerProcess, startServer } from '../support/serverProcess.ts'
import { type SharedBroker, sharedBroker } from '../support/sharedBroker.ts'

const PLANT = millPlant([FAST_TACHO])

const scratch = scratchFolder()
let broker: SharedBroker
let client: MqttClient
let hook: HookServer
let server: ServerProcess
let publishing: NodeJS.Timeout
let speed = 1500

beforeAll(async () => {
  broker = await sharedBroker()
  hook = await startHookServer()
  process.env['HEADRACE_NOTIFY_SECRET_HOOK'] = `whsec_${Buffer.alloc(24, 1).toString('base64')}`
  const args = [
    '--plant',
    scratch.file('mill.yaml', PLANT),
    '--notify',
    scratch.file('notify.yaml', millNotify(hook.url)),
  ]
  server = await startServer([...args, '--mqtt-url', broker.url, '--data', scratch.path, '--http-port', '0'])
  client = await connectPublisher(broker.url)
  let sent = 0
  publishing = setInterval(() => client.publish('mill/speed', String(speed + (sent++ % 7))), 20)
})
afterAll(async () => {
  clearInterval(publishing)
  delete process.env['HEADRACE_NOTIFY_SECRET_HOOK']
  await client.endAsync(true)
  await server.stop()
  await hook.close()
  await broker.close()
  scratch.remove()
})

const health = () => getJson<HealthReply>(`${server.url}/api/health`)
const alarm = async () =>
  (await getJson<AlarmView[]>(`${server.url}/api/plants/mill/alarms`)).find(({ id }) => id === 'over')
const readings = async () => (await health()).stages.find(({ name }) => name === 'readings')!.total
const told = () =>
  hook.requests
    .map(({ body }) => JSON.parse(body) as { type: string })
    .filter(({ type }) => type === 'alarm.raised')
const raises = async () =>
  (await getJson<JournalReply>(`${server.url}/api/plants/mill/journal?limit=1000`)).entries.filter(
    (entry) => entry.alarm === 'over' && entry.event === 'raise',
  )

let session: string | undefined

async function signedIn(): Promise<string> {
  if (session) return session
  const code = /Set-up code (\S+):/.exec(server.output())![1]!
  const made = await fetch(`${server.url}/api/setup`, {
    method: 'POST',
    headers: { 'content-type': 'application/json' },
    body: JSON.stringify({ name: 'Ada', code, password: 'turn the water on' }),
  })
  session = made.headers.getSetCookie()[0]!.split(';')[0]!
  return session
}

/** No file of the server may grow beyond this any more [bytes]: the engines meet refused writes, as on a full disk. */
function limitFiles(bytes: number | 'unlimited'): void {
  execFileSync('prlimit', ['--pid', String(server.process.pid), `--fsize=${bytes}:unlimited`])
}

// What is checked are rules of the house: the watch goes on whatever the disk does, and says so; no outside source.
it.each([
  ['that is full', () => statSync(join(scratch.path, 'state.db-wal')).size],
  ['that takes no write at all, as one that is read-only', () => 0],
])(
  'a disk %s keeps no alarm from being raised and told, and what was lost for it is stored when it can be',
  async (_, room) => {
    const before = (await raises()).length
    const messages = told().length
    limitFiles(room())
    try {
      await until(health, ({ storing, flow }) => !storing.ok && !flow.ok, 30_000)
      speed = 1770
      await until(alarm, (one) => one?.state === 'unacknowledged')
      await until(
        async () => told().length,
        (count) => count > messages,
        30_000,
      )
      speed = 1500
      await until(alarm, (one) => one?.active === false)
      const known = await readings()
      await until(readings, (total) => total > known + 20)
    } finally {
      limitFiles('unlimited')
    }
    await until(health, ({ storing }) => storing.ok, 60_000)
    await until(raises, (all) => all.length === before + 1, 20_000)
    // what nobody has answered is not told anew
    const answer = await fetch(`${server.url}/api/plants/mill/alarms/over/acknowledge`, {
      method: 'POST',
      headers: { 'content-type': 'application/json', cookie: await signedIn() },
      body: '{}',
    })
    expect(answer.status).toBe(200)
    expect(server.process.exitCode).toBeNull()
  },
  120_000,
)
