import { afterAll, beforeAll, describe, expect, it } from 'vitest'
import type { JournalReply } from '../../server/wire/alarm.ts'
import type { Snapshot } from '../../server/wire/plant.ts'
import type { HistoryReply } from '../../server/wire/replies.ts'
import { type Mosquitto, startMosquitto } from '../support/mosquitto.ts'
import { connectPublisher, getJson, until } from '../support/publisher.ts'
import { scratchFolder } from '../support/scratch.ts'
import { type ServerProcess, startServer } from '../support/serverProcess.ts'

const PLANT = `
headrace: 1
id: mill
name: My mill
use: offGrid
site: { timeZone: Europe/London }
generator: { kind: permanentMagnet, ratedSpeed: 1500 /min }
turbine: { kind: pelton, ratedSpeed: 1500 /min }
instruments:
  - { id: rotor, role: speed, topic: mill/speed, unit: /min, range: [0, 3000], payload: { format: json, value: /n, time: /at }, staleAfter: 5 s }
  - { id: meter, role: discharge, topic: mill/flow, unit: L/s, range: [0, 20] }
alarms:
  - { id: over-speed, name: Over-speed, kind: overSpeed, figure: speed, limit: 110 % of rated, priority: high }
`

const AWAY_MS = 3_600_000

describe('a server that was away from an external broker', () => {
  const scratch = scratchFolder()
  let broker: Mosquitto
  let server: ServerProcess
  let args: string[]

  beforeAll(async () => {
    broker = await startMosquitto()
    args = ['--plant', scratch.file('mill.yaml', PLANT), '--mqtt-url', broker.url, '--data', scratch.path]
    args.push('--http-port', '0')
  })
  afterAll(async () => {
    await server?.stop()
    await broker.close()
    scratch.remove()
  })

  const live = () => getJson<Snapshot>(`${server.url}/api/plants/mill/live`)
  async function figureNow(figure: string) {
    const { plant, values } = await live()
    return values[plant.figures.findIndex(({ id }) => id === figure)]!
  }

  it('has in history, under its time, what was sent meanwhile; nothing of it is live, and no number without a time came', async () => {
    server = await startServer(args)
    await until(live, ({ source }) => source.connected)
    const sensor = await connectPublisher(broker.url)
    await until(
      async () => {
        await sensor.publishAsync('mill/speed', JSON.stringify({ n: 1490, at: Date.now() }), { qos: 1 })
        return figureNow('speed')
      },
      ({ quality }) => quality === 'good',
    )
    await server.stop()

    // An hour ago, in steps of 10 s: over-speed in the middle of it, which was over long before the server came back.
    const begun = Date.now() - AWAY_MS
    const sent = Array.from({ length: 60 }, (_, i) => ({
      n: i >= 20 && i < 30 ? 2000 : 1500 + i,
      at: begun + i * 10_000,
    }))
    for (const one of sent) await sensor.publishAsync('mill/speed', JSON.stringify(one), { qos: 1 })
    await sensor.publishAsync('mill/flow', '7', { qos: 1 })

    server = await startServer(args)
    await until(live, ({ source }) => source.connected)
    const span = new URLSearchParams({
      figures: 'speed',
      from: String(begun - 1000),
      to: String(begun + 600_000),
      points: '2000',
    })
    const stored = await until(
      () => getJson<HistoryReply>(`${server.url}/api/plants/mill/history?${span}`),
      ({ figures }) => figures[0]!.mean.filter((value) => value !== null).length >= sent.length,
      20_000,
    )
    const [column] = stored.figures
    for (const { n, at } of sent) {
      const nth = stored.at.findIndex(
        (time, i) => Math.abs(time - at) <= stored.bucketMs && column!.mean[i] !== null,
      )
      // 2π/60 rad/s are one revolution a minute.
      expect(column!.mean[nth], String(at - begun)).toBeCloseTo((n * 2 * Math.PI) / 60, 3)
    }
    expect(await figureNow('speed')).toMatchObject({ quality: 'bad' })
    expect(await figureNow('discharge')).toMatchObject({ value: null, quality: 'bad' })
    const journal = await getJson<JournalReply>(`${server.url}/api/plants/mill/journal?limit=100`)
    expect(journal.entries.filter(({ alarm, event }) => alarm === 'over-speed' && event === 'raise')).toEqual(
      [],
    )

    await sensor.publishAsync('mill/speed', JSON.stringify({ n: 1501, at: Date.now() }), { qos: 1 })
    await until(
      () => figureNow('speed'),
      ({ quality }) => quality === 'good',
    )
    await sensor.endAsync()
  })
})
