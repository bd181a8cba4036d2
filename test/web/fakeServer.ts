import { createServer } from 'node:http'
import type { AddressInfo } from 'node:net'
import { fileURLToPath } from 'node:url'
import express from 'express'
import { Server } from 'socket.io'
import type { AlarmView, JournalEntry } from '../../server/wire/alarm.ts'
import type { PlantSummary, Snapshot, SourceView } from '../../server/wire/plant.ts'
import type { ClientToServer, ServerToClient } from '../../server/wire/socketEvents.ts'
import { startingAlarms } from './fakeAlarms.ts'
import { figureAt, rows, view } from './fakePlant.ts'
import { addReplies } from './fakeReplies.ts'

const FRAME_MS = 250
const WEB_FOLDER = fileURLToPath(new URL('../../dist/web', import.meta.url))

/** What the made-up server knows; the replies read it. */
export interface FakeState {
  alarms: AlarmView[]
  journal: JournalEntry[]
  source: SourceView
  snapshot: () => Snapshot
  summary: () => PlantSummary
  /** Puts a changed alarm in and tells the pages. */
  change: (alarm: AlarmView, event: JournalEntry['event']) => void
}

/** A server with made-up, moving figures, for looking at the built page. Port 0 takes a free one. */
export async function startFakeServer(port = 0) {
  const app = express()
  const server = createServer(app)
  const io = new Server<ClientToServer, ServerToClient>(server)
  let sequence = 0
  let isQuiet = false
  const state = createState()

  app.use((_request, response, next) => {
    response.set(
      'Content-Security-Policy',
      "default-src 'self'; style-src 'self'; connect-src 'self' ws:; object-src 'none'; base-uri 'none'",
    )
    next()
  })
  app.use(express.json())
  addReplies(app, state)
  app.use(express.static(WEB_FOLDER))

  io.on('connection', (socket) => {
    socket.on('join', (plant, reply) => {
      if (plant !== view.id) return reply({ ok: false, error: `There is no plant "${plant}".` })
      void socket.join(plant)
      reply({ ok: true, snapshot: state.snapshot() })
    })
    socket.on('leave', () => void socket.leave(view.id))
  })

  const timer = setInterval(() => {
    if (isQuiet) return
    const at = Date.now()
    sequence++
    for (const socket of io.sockets.sockets.values()) {
      if (!socket.rooms.has(view.id)) continue
      const values = state.source.connected ? rows.map((_, row) => [row, figureAt(row, at)] as const) : []
      socket.emit(
        'frame',
        { sequence, at, values: values.map((pair) => [...pair]), source: state.source },
        () => {},
      )
    }
  }, FRAME_MS)

  function createState(): FakeState {
    const start = Date.now()
    const made: FakeState = {
      alarms: startingAlarms(start),
      journal: [],
      source: { connected: true, name: 'embedded broker on 127.0.0.1:1883', since: start },
      snapshot: () => ({
        sequence,
        at: Date.now(),
        plant: view,
        state: {
          state: 'generating',
          sentence: 'Running on three jets: 847 W of water power, 513 W at the generator.',
          since: start - 4_400_000,
          agreement: { state: 'agrees', sentence: 'The instruments agree.' },
        },
        values: rows.map((_, row) => figureAt(row, Date.now())),
        alarms: made.alarms,
        source: made.source,
        health: { faults: 3, unmapped: 1, storing: true },
      }),
      summary: () => summaryOf(made),
      change(alarm, event) {
        const before = made.alarms.find((held) => held.id === alarm.id)
        made.alarms = made.alarms.map((held) => (held.id === alarm.id ? alarm : held))
        made.journal.unshift(entryOf(made.journal.length, { alarm, from: before?.state ?? 'normal', event }))
        io.to(view.id).emit('alarm', { plant: view.id, alarm, at: Date.now() })
      },
    }
    made.journal = made.alarms
      .filter((alarm) => alarm.raisedAt !== null)
      .map((alarm, i) => ({ ...entryOf(i, { alarm, from: 'normal', event: 'raise' }), at: alarm.raisedAt! }))
    return made
  }

  await new Promise<void>((resolve) => server.listen(port, '127.0.0.1', resolve))
  return {
    url: `http://127.0.0.1:${(server.address() as AddressInfo).port}`,
    state,
    /** True: the broker is there; false: no measurement reaches the server. */
    setSource(connected: boolean): void {
      state.source = { ...state.source, connected, since: Date.now() }
    },
    /** True: the connection stays open, but nothing is sent any more. */
    setQuiet(quiet: boolean): void {
      isQuiet = quiet
    },
    dropConnections: () => io.disconnectSockets(true),
    async close(): Promise<void> {
      clearInterval(timer)
      await io.close()
      server.closeAllConnections()
    },
  }
}

export type FakeServer = Awaited<ReturnType<typeof startFakeServer>>

function summaryOf({ alarms, snapshot }: FakeState): PlantSummary {
  const { id, name, summary, simulated, figures, keyFigures } = view
  const index = figures.findIndex((figure) => figure.id === keyFigures[0])
  return {
    id,
    name,
    summary,
    simulated,
    state: snapshot().state,
    headline: { figure: figures[index]!, value: figureAt(index, Date.now()) },
    unacknowledged: alarms.filter((alarm) => /unacknowledged/i.test(alarm.state)).length,
    active: alarms.filter((alarm) => alarm.active).length,
    danger: null,
    lastReceivedAt: Date.now() - 400,
  }
}

interface Change {
  alarm: AlarmView
  from: JournalEntry['from']
  event: JournalEntry['event']
}

function entryOf(sequence: number, { alarm, from, event }: Change): JournalEntry {
  return {
    sequence,
    at: Date.now(),
    plant: view.id,
    alarm: alarm.id,
    priority: alarm.priority,
    entry: alarm.entry,
    from,
    to: alarm.state,
    event,
    value: alarm.value,
    ...(event === 'acknowledge' ? { by: 'this machine' } : {}),
  }
}
