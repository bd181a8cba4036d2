import type { Express } from 'express'
import type { SessionReply } from '../../server/wire/access.ts'
import type { AlarmView } from '../../server/wire/alarm.ts'
import type { ExplainReply } from '../../server/wire/explain.ts'
import type { CounterView, HealthReply, HistoryReply, IndexView } from '../../server/wire/replies.ts'
import { figureAt, rows, valueAt, view } from './fakePlant.ts'
import { otherPlants } from './fakePlants.ts'
import type { FakeState } from './fakeServer.ts'

const HOUR_MS = 3_600_000

/** The HTTP answers of the made-up server. */
export function addReplies(app: Express, state: FakeState): void {
  app.get('/api/session', (_request, response) => {
    const actions = ['read', 'simulate', 'acknowledge', 'reset', 'shelve', 'settings'] as const
    const reply: SessionReply = {
      name: null,
      role: 'demo',
      actions: [...actions],
      secondFactor: null,
      hasUsers: false,
    }
    response.json(reply)
  })
  app.get('/api/plants', (_request, response) => {
    response.json([state.summary(), ...otherPlants()])
  })
  app.get('/api/plants/:plant/live', (request, response) => {
    if (request.params.plant !== view.id)
      return void response.status(404).json({ error: 'There is no such plant.' })
    response.json(state.snapshot())
  })
  app.get('/api/plants/:plant/figures/:figure/explain', (request, response) => {
    response.json(explanation(request.params.figure))
  })
  app.get('/api/plants/:plant/history', (request, response) => {
    const { figures, from, to, points } = request.query as Record<string, string>
    response.json(history(figures!.split(','), [Number(from), Number(to)], Number(points)))
  })
  app.get('/api/plants/:plant/counters', (_request, response) => {
    response.json(counters())
  })
  app.get('/api/plants/:plant/indices', (_request, response) => {
    response.json(indices())
  })
  app.get('/api/plants/:plant/journal', (request, response) => {
    response.json({ entries: state.journal.slice(0, Number(request.query['limit'])) })
  })
  app.get('/api/plants/:plant/events', (_request, response) => {
    response.json([])
  })
  app.post('/api/plants/:plant/alarms/:alarm/:action', (request, response) => {
    const alarm = state.alarms.find((held) => held.id === request.params.alarm)
    if (!alarm) return void response.status(404).json({ error: 'This plant has no such alarm.' })
    const changed = request.params.action === 'reset' ? reset(alarm) : acknowledged(alarm)
    state.change(changed, request.params.action === 'reset' ? 'reset' : 'acknowledge')
    response.json(changed)
  })
  app.post('/api/plants/:plant/simulator/:control', (request, response) => {
    if (request.params.control === 'scenario')
      return void response.status(400).json({ error: 'The simulator is busy with another scenario.' })
    response.json({ ok: true })
  })
  app.get('/api/health', (_request, response) => {
    response.json(health())
  })
}

function explanation(id: string): ExplainReply {
  const at = (row: number) => ({ figure: rows[row]!.description, value: figureAt(row, Date.now()) })
  const rowOf = (figure: string) => rows.findIndex((held) => held.description.id === figure)
  const common = { ...at(rowOf(id)), inputs: [], constants: [], uncertaintyShares: [] }
  if (id !== 'turbineEfficiency')
    return {
      ...common,
      instrument: {
        id,
        name: 'Made-up instrument',
        topic: `quennerby/rig/${id}`,
        unit: 'm',
        range: [0, 5],
        accuracy: '± 0.5 % of reading',
      },
    }
  return {
    ...common,
    formula: {
      symbols: 'P_s / P_h',
      numbers: '593 / 847',
      source: 'IEC 60041',
      valid: ['Left blank below 50 W of water power.'],
    },
    inputs: [
      { symbol: 'P_s', ...at(rowOf('shaftPower')) },
      { symbol: 'P_h', ...at(rowOf('hydraulicPower')) },
    ],
    constants: [{ symbol: 'g', path: 'site.gravity', value: 9.8142, unit: 'm/s2' }],
    uncertaintyShares: [
      { source: 'discharge', kind: 'instrument', name: 'Flow meter', share: 0.61 },
      { source: 'torque', kind: 'instrument', name: 'Torque cell', share: 0.3 },
      {
        source: 'site.gravity',
        kind: 'constant',
        name: 'site.gravity',
        share: 0.09,
        assumed: 'common practice, no source',
      },
    ],
  }
}

function acknowledged(alarm: AlarmView): AlarmView {
  const now = Date.now()
  const stamp = { changedAt: now, acknowledgedAt: now, acknowledgedBy: 'this machine' }
  return { ...alarm, ...stamp, state: alarm.latching ? 'latchedAcknowledged' : 'acknowledged' }
}

function reset(alarm: AlarmView): AlarmView {
  return { ...alarm, state: 'normal', active: false, changedAt: Date.now() }
}

/** With a hole in the middle, and a spike that only min and max can show on a wide span. */
function history(ids: string[], [from, to]: [number, number], points: number): HistoryReply {
  const bucketMs = Math.max(1000, (to - from) / points)
  const hole = [from + (to - from) * 0.4, from + (to - from) * 0.47]
  const at = Array.from({ length: Math.floor((to - from) / bucketMs) }, (_, i) => from + i * bucketMs)
  const figures = ids.flatMap((id) => {
    const row = rows.findIndex((held) => held.description.id === id)
    if (row < 0) return []
    const { unit } = rows[row]!.description
    const spread = rows[row]!.swing * 0.25
    const column = (shift: number) =>
      at.map((time) => (time > hole[0]! && time < hole[1]! ? null : valueAt(row, time) + shift))
    return [{ id, unit, min: column(-spread), mean: column(0), max: column(spread) }]
  })
  return { from, to, bucketMs, at, figures }
}

function counters(): CounterView[] {
  const since = Date.now() - 240 * HOUR_MS
  const part = (value: number) => ({
    from: since,
    to: Date.now(),
    value,
    gapSeconds: 0,
    uncertainSeconds: 0,
  })
  const common = { since, at: Date.now(), gapSeconds: 0, uncertainSeconds: 0, quality: 'good' as const }
  const one = (value: number) => ({
    value,
    today: part(value / 10),
    yesterday: part(value / 9),
    thisMonth: part(value / 2),
    remarks: [],
  })
  return [
    {
      ...common,
      ...one(1.83e8),
      id: 'energyGenerated',
      name: 'Energy generated',
      unit: 'J',
      group: 'energy',
      source: 'meter',
      check: { today: 0.004, yesterday: -0.002 },
    },
    {
      ...common,
      ...one(1841.3),
      id: 'waterVolume',
      name: 'Water through the turbine',
      unit: 'm3',
      group: 'water',
      source: 'integrated',
      gapSeconds: 184,
      quality: 'uncertain',
    },
    {
      ...common,
      ...one(507_600),
      id: 'runSeconds',
      name: 'Run time',
      unit: 's',
      group: 'running',
      source: 'integrated',
      yesterday: null,
    },
    {
      ...common,
      ...one(27),
      id: 'starts',
      name: 'Starts',
      unit: '1',
      group: 'running',
      source: 'counted',
    },
  ]
}

function indices(): IndexView[] {
  const value = { from: Date.now() - 240 * HOUR_MS, to: Date.now(), unknownSeconds: 0, reasons: [] }
  const percent = { unit: '1', viewUnit: '%' }
  return [
    {
      ...percent,
      id: 'capacityFactor',
      name: 'Capacity factor',
      formula: 'energy generated ÷ (rated power × time)',
      thisMonth: { ...value, value: 0.473, quality: 'good' },
      since: { ...value, value: 0.512, most: 0.53, quality: 'uncertain' },
    },
    {
      ...percent,
      id: 'availability',
      name: 'Availability',
      formula: '(time − time tripped) ÷ time',
      needs: 'needs an instrument with role tripped.1',
      thisMonth: null,
      since: null,
    },
  ]
}

function health(): HealthReply {
  const now = Date.now()
  return {
    at: now,
    version: '0.1.0',
    startedAt: now - 5 * HOUR_MS,
    certificate: null,
    doubts: [],
    stages: [
      { name: 'ingest', perSecond: 41.2, total: 741_600, faults: 3, detail: '3 payloads could not be read' },
      { name: 'derive', perSecond: 27, total: 486_000, faults: 0 },
      { name: 'alarms', perSecond: 27, total: 486_000, faults: 0 },
      { name: 'history', perSecond: 41.2, total: 741_500, faults: 0 },
      { name: 'page side', perSecond: 4, total: 72_000, faults: 0 },
    ],
    queues: [
      {
        name: 'readings waiting to be derived',
        length: 0,
        limit: 10_000,
        policy: 'the oldest reading is dropped',
        dropped: 0,
      },
      {
        name: 'figures waiting for slow viewers',
        length: 12,
        limit: 270,
        policy: 'the latest value of a figure replaces the one before',
        dropped: 0,
      },
    ],
    topics: rows.slice(0, 8).map(({ description }, i) => ({
      topic: `quennerby/rig/${description.id}`,
      plant: view.id,
      instrument: description.id,
      received: 18_000 - i,
      faults: i === 3 ? 3 : 0,
      lastReceivedAt: now - 300,
      everyMs: 1000,
      ...(i === 3
        ? {
            lastFault: {
              at: now - 93_000,
              message:
                'decode: payload is "ERR" (text), expected a number in mm/s. This reading was dropped.',
              example: 'ERR',
            },
          }
        : {}),
    })),
    unmapped: [
      { topic: 'quennerby/rig/spare7', received: 412, example: '{"v":3.2}', lastReceivedAt: now - 2000 },
    ],
    unmappedDropped: 0,
    source: { connected: true, name: 'embedded broker on 127.0.0.1:1883', since: now - 5 * HOUR_MS },
    storing: { ok: true },
    flow: { ok: true, reasons: [] },
    refusedFiles: null,
    lastFault: null,
    eventLoopDelayP99Ms: 11.3,
    memoryRssBytes: 143e6,
    processes: [
      { name: 'watch', memoryRssBytes: 81e6, eventLoopDelayP99Ms: 11.3 },
      { name: 'page side', memoryRssBytes: 62e6, eventLoopDelayP99Ms: 12.1 },
    ],
    pageRestarts: 0,
  }
}
