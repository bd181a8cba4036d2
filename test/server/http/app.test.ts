import { createServer, request as httpRequest, type Server } from 'node:http'
import type { AddressInfo } from 'node:net'
import { afterEach, beforeEach, describe, expect, it } from 'vitest'
import type { EventStore } from '../../../server/alarms/events/eventStore.ts'
import type { Journal } from '../../../server/alarms/journal.ts'
import type { CounterStore } from '../../../server/derive/counters.ts'
import { createApp } from '../../../server/http/createApp.ts'
import type { Broker } from '../../../server/ingest/broker/broker.ts'
import { createLessons } from '../../../server/lessons/lessons.ts'
import { createLivePlant, type LivePlant } from '../../../server/livePlant.ts'
import type { Hub } from '../../../server/push/hub.ts'
import { createReplays } from '../../../server/replay/replays.ts'
import type { HealthReply } from '../../../server/wire/replies.ts'
import { type AccessBench, accessBench } from '../../support/accessBench.ts'
import { memoryJournal } from '../../support/alarmBench.ts'
import { START } from '../../support/manualClock.ts'
import { memoryStore } from '../../support/memoryHistory.ts'
import { silentNotify } from '../../support/notifyBench.ts'
import { plantOf, THREE_SENSORS } from '../../support/plants.ts'
import { openTrialBench, type TrialBench } from '../../support/trialBench.ts'

const SIMULATED = `
id: play
name: Play
use: rig
simulated: true
instruments: [{ id: speed, role: speed, topic: play/speed, unit: /min }]
simulation:
  controls:
    - { id: jet, name: Jet, kind: switch, topic: play/simulator/command/jet, initial: true }
    - { id: head, name: Head, kind: slider, min: 8, max: 28, unit: m, topic: play/simulator/command/head, initial: 24 }
    - { id: mode, name: Mode, kind: choice, choices: [{ id: a, name: A }], topic: play/simulator/command/mode, initial: a }
`

const noCounters: CounterStore = { load: () => undefined, days: () => [], save: () => true }

function live(text: string): LivePlant {
  const journal = memoryJournal()
  return createLivePlant(plantOf(text), {
    journal,
    counterStore: noCounters,
    mono: () => 0,
    onTransition: () => {},
  })
}

describe('the HTTP interface', () => {
  let server: Server
  let base: string
  let published: [topic: string, payload: string][]
  let mill: LivePlant
  let demo: AccessBench
  let bench: TrialBench

  beforeEach(async () => {
    published = []
    demo = accessBench({ demo: true, plants: [] })
    mill = live(`${THREE_SENSORS}
alarms:
  - { id: low, name: Power low, kind: low, figure: activePower, limit: 1 kW, priority: medium }`)
    const plants = new Map([
      ['mill', mill],
      ['play', live(SIMULATED)],
    ])
    bench = openTrialBench(mill, () => START)
    const history = memoryStore()
    const { trials, state } = bench
    const lessons = createLessons({ state, clock: demo.clock, plants: () => plants, trials })
    const context = {
      lessons,
      plants: () => plants,
      trials: bench.trials,
      replays: createReplays({ history, clock: demo.clock, show: () => {}, watching: () => 0 }),
      hub: { snapshot: () => ({ sequence: 1 }) } as unknown as Hub,
      history,
      journal: { newest: () => [], between: () => [] } as unknown as Journal,
      events: { list: () => [], find: () => undefined } as unknown as EventStore,
      notify: silentNotify(),
      broker: {
        publish: (topic: string, payload: string) => published.push([topic, payload]),
      } as unknown as Broker,
      health: () =>
        ({
          stages: [],
          queues: [],
          source: { connected: true },
          storing: { ok: true },
        }) as unknown as HealthReply,
      now: () => START,
      access: demo.access,
    }
    server = createServer(createApp(context, { webFolder: '/nowhere', host: '127.0.0.1' }))
    await new Promise<void>((resolve) => server.listen(0, '127.0.0.1', resolve))
    base = `http://127.0.0.1:${(server.address() as AddressInfo).port}`
  })

  afterEach(async () => {
    await new Promise((resolve) => server.close(resolve))
    demo.close()
    await bench.close()
  })

  const post = (path: string, body: unknown, headers: Record<string, string> = {}) =>
    fetch(base + path, {
      method: 'POST',
      headers: { 'content-type': 'application/json', ...headers },
      body: JSON.stringify(body),
    })

  it('lists the plants with their headline figure', async () => {
    const plants = (await (await fetch(`${base}/api/plants`)).json()) as {
      id: string
      headline: { figure: { id: string } }
    }[]
    expect(plants.map((one) => one.id)).toEqual(['mill', 'play'])
    expect(plants[0]!.headline.figure.id).toBe('activePower')
  })

  it('answers an unknown plant, figure, alarm and path with 404 and a sentence', async () => {
    for (const path of [
      '/api/plants/none/live',
      '/api/plants/mill/figures/none/explain',
      '/api/nothing',
      '/api/plants/mill/history?figures=none',
    ]) {
      const response = await fetch(base + path)
      expect(response.status, path).toBe(404)
      expect(((await response.json()) as { error: string }).error, path).toMatch(/no|nothing/i)
    }
  })

  it('says which part of a history query cannot be used, what came and what was expected', async () => {
    const response = await fetch(`${base}/api/plants/mill/history?figures=netHead&points=0`)
    expect(response.status).toBe(400)
    expect(await response.json()).toMatchObject({ faults: [{ path: 'points', received: '"0"' }] })
  })

  it('gives history as columns with null for gaps', async () => {
    const response = await fetch(`${base}/api/plants/mill/history?figures=netHead&from=0&to=10&points=2`)
    expect(await response.json()).toMatchObject({
      figures: [{ id: 'netHead', unit: 'm', mean: [null, null] }],
    })
  })

  it('acknowledges an alarm, and again without harm', async () => {
    mill.takeReading({
      plant: 'mill',
      instrument: 'power',
      quantity: 'activePower',
      value: 10,
      measuredAt: START,
      receivedAt: START,
      quality: 'good',
      reasons: [],
    })
    mill.tick(START)
    for (let i = 0; i < 2; i++) {
      const response = await post('/api/plants/mill/alarms/low/acknowledge', {})
      expect(await response.json()).toMatchObject({
        state: 'acknowledged',
        acknowledgedBy: 'demo (this machine)',
      })
    }
  })

  it('takes no action from a page of another site', async () => {
    for (const headers of [{ origin: 'http://evil.example' }, { 'sec-fetch-site': 'cross-site' }]) {
      const response = await post('/api/plants/mill/alarms/low/acknowledge', {}, headers)
      expect(response.status).toBe(403)
    }
  })

  it('takes no action from a form', async () => {
    const response = await fetch(`${base}/api/plants/mill/alarms/low/acknowledge`, {
      method: 'POST',
      body: 'note=1',
      headers: { 'content-type': 'text/plain' },
    })
    expect(response.status).toBe(415)
  })

  it('answers only under a loopback name, so that no foreign name can be bent to it', async () => {
    const status = await new Promise((resolve) => {
      const { port } = server.address() as AddressInfo
      httpRequest(
        { host: '127.0.0.1', port, path: '/api/plants', headers: { host: 'rebound.example' } },
        (response) => resolve(response.statusCode),
      ).end()
    })
    expect(status).toBe(403)
  })

  it('commands the simulator of a simulated plant', async () => {
    await post('/api/plants/play/simulator/jet', { value: false })
    await post('/api/plants/play/simulator/head', { value: 20 })
    await post('/api/plants/play/simulator/mode', { value: 'a' })
    expect(published).toEqual([
      ['play/simulator/command/jet', '0'],
      ['play/simulator/command/head', '20'],
      ['play/simulator/command/mode', 'a'],
    ])
  })

  it('never commands a real plant', async () => {
    const response = await post('/api/plants/mill/simulator/jet', { value: true })
    expect(response.status).toBe(403)
    expect(published).toEqual([])
  })

  it.each([
    ['jet', 3],
    ['head', 99],
    ['head', 'x'],
    ['mode', 'z'],
  ])('refuses the value of control %s: %s', async (control, value) => {
    expect((await post(`/api/plants/play/simulator/${control}`, { value })).status).toBe(400)
    expect(published).toEqual([])
  })

  it('answers broken JSON with 400 and a huge body with 413', async () => {
    const broken = await fetch(`${base}/api/plants/mill/alarms/low/acknowledge`, {
      method: 'POST',
      headers: { 'content-type': 'application/json' },
      body: '{',
    })
    expect(broken.status).toBe(400)
    expect((await post('/api/plants/mill/alarms/low/acknowledge', { note: 'x'.repeat(20_000) })).status).toBe(
      413,
    )
  })

  it('allows no inline script and no framing', async () => {
    const policy = (await fetch(`${base}/api/plants`)).headers.get('content-security-policy')
    expect(policy).toContain("default-src 'self'")
    expect(policy).toContain("frame-ancestors 'none'")
    expect(policy).not.toContain('unsafe-inline')
  })

  it('writes its numbers as open-metrics text too', async () => {
    const text = await (await fetch(`${base}/metrics`)).text()
    expect(text).toMatch(/^# TYPE headrace_up gauge\nheadrace_up 1$/m)
  })
})
