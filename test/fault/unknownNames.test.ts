import type { MqttClient } from 'mqtt'
import { afterAll, expect, it } from 'vitest'
import type { AlarmView } from '../../server/wire/alarm.ts'
import type { NotificationsReply } from '../../server/wire/notifications.ts'
import type { HealthReply } from '../../server/wire/replies.ts'
import { plantText } from '../support/plants.ts'
import { connectPublisher, getJson, until } from '../support/publisher.ts'
import { scratchFolder } from '../support/scratch.ts'
import { type ServerProcess, startServer } from '../support/serverProcess.ts'
import { sharedBroker } from '../support/sharedBroker.ts'

/** RFC 2606, 2: nobody will ever have this name. */
const NOWHERE = 'nowhere.invalid'
const REASON = /ENOTFOUND|EAI_AGAIN|name|found/i

const PLANT = plantText(`
generator: { kind: synchronous, polePairs: 2, ratedSpeed: 1500 /min, ratedPower: 15 kW }
instruments: [{ id: tacho, role: speed, topic: mill/speed, unit: /min }]
alarms: [{ id: over, name: Over-speed, kind: overSpeed, figure: speed, limit: 110 % of rated, priority: high }]
`)
const NOTIFY = `headraceNotify: 1
timeZone: UTC
channels: [{ id: hook, kind: webhook, url: "https://${NOWHERE}/alarms" }]
recipients: [{ id: desk, name: Desk, by: [{ channel: hook }] }]
rules: [{ to: [desk], priorities: [high] }]
heartbeat: { url: "https://${NOWHERE}/alive", period: 10 s }
`

const scratch = scratchFolder()
const plant = scratch.file('mill.yaml', PLANT)
afterAll(() => scratch.remove())

it('a broker whose name is not known is said to be away, tried again, and keeps nothing else from working', async () => {
  const args = ['--plant', plant, '--mqtt-url', `mqtt://${NOWHERE}`, '--data', `${scratch.path}/a`]
  const server = await startServer([...args, '--http-port', '0'])
  const { source, flow } = await until(
    () => getJson<HealthReply>(`${server.url}/api/health`),
    (health) => REASON.test(health.source.detail ?? ''),
    20_000,
  )
  expect(source.connected).toBe(false)
  expect(flow).toMatchObject({ ok: false, reasons: ['The source of measurements is not connected.'] })
  expect(await server.stop()).toBe(0)
}, 60_000)

it('a webhook whose name is not known fails with its reason, waits for the next attempt, and holds no alarm up', async () => {
  const broker = await sharedBroker()
  process.env['HEADRACE_NOTIFY_SECRET_HOOK'] = `whsec_${Buffer.alloc(24, 1).toString('base64')}`
  const args = ['--plant', plant, '--notify', scratch.file('notify.yaml', NOTIFY), '--mqtt-url', broker.url]
  const server = await startServer([...args, '--data', `${scratch.path}/b`, '--http-port', '0'])
  let client: MqttClient | undefined
  try {
    client = await connectPublisher(broker.url)
    await client.publishAsync('mill/speed', '1770', { retain: false })
    const cookie = await firstPerson(server)
    const notifications = async () =>
      (await (
        await fetch(`${server.url}/api/notifications`, { headers: { cookie } })
      ).json()) as NotificationsReply
    const alarm = async () =>
      (await getJson<AlarmView[]>(`${server.url}/api/plants/mill/alarms`)).find(({ id }) => id === 'over')
    await until(
      async () => {
        await client!.publishAsync('mill/speed', String(1770 + Math.random()))
        return alarm()
      },
      (one) => one?.state === 'unacknowledged',
    )
    const { deliveries, paths, heartbeat } = await until(
      notifications,
      (all) => all.deliveries.some(({ attempts }) => attempts > 0) && (all.heartbeat?.failures ?? 0) > 0,
      30_000,
    )
    expect(deliveries[0]).toMatchObject({ status: 'waiting', reason: expect.stringMatching(REASON) })
    expect(paths[0]).toMatchObject({ acceptedAt: null, provenAt: null })
    expect(heartbeat).toMatchObject({ sent: 0, lastFailure: expect.stringMatching(REASON) })
  } finally {
    delete process.env['HEADRACE_NOTIFY_SECRET_HOOK']
    await client?.endAsync(true)
    expect(await server.stop()).toBe(0)
    await broker.close()
  }
}, 90_000)

/** Made with the set-up code; who may change settings sees why something failed. @returns their cookie. */
async function firstPerson({ url, output }: ServerProcess): Promise<string> {
  const code = /Set-up code (\S+):/.exec(output())![1]!
  const made = await fetch(`${url}/api/setup`, {
    method: 'POST',
    headers: { 'content-type': 'application/json' },
    body: JSON.stringify({ name: 'Ada', code, password: 'turn the water on' }),
  })
  return made.headers.getSetCookie()[0]!.split(';')[0]!
}
