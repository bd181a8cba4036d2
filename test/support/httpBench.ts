import { createServer } from 'node:http'
import type { AddressInfo } from 'node:net'
import type { Express } from 'express'
import type { EventStore } from '../../server/alarms/events/eventStore.ts'
import type { Journal } from '../../server/alarms/journal.ts'
import type { HttpContext } from '../../server/http/context.ts'
import { createApp } from '../../server/http/createApp.ts'
import type { Broker } from '../../server/ingest/broker/broker.ts'
import { createLessons } from '../../server/lessons/lessons.ts'
import { createLivePlant, type LivePlant } from '../../server/livePlant.ts'
import type { Hub } from '../../server/push/hub.ts'
import { createReplays } from '../../server/replay/replays.ts'
import type { HealthReply } from '../../server/wire/replies.ts'
import { type AccessBench, accessBench, type BenchOptions } from './accessBench.ts'
import { memoryJournal } from './alarmBench.ts'
import { memoryStore } from './memoryHistory.ts'
import { silentNotify } from './notifyBench.ts'
import { plantOf, THREE_SENSORS } from './plants.ts'
import { openTrialBench } from './trialBench.ts'

const WATCHED = `${THREE_SENSORS}
alarms:
  - { id: low, name: Power low, kind: low, figure: activePower, limit: 1 kW, priority: medium }`

const SIMULATED = `
id: play
name: Play
use: rig
simulated: true
instruments: [{ id: speed, role: speed, topic: play/speed, unit: /min }]
simulation:
  controls:
    - { id: jet, name: Jet, kind: switch, topic: play/simulator/command/jet, initial: true }
`

export interface AskOptions {
  token?: string | undefined
  body?: unknown
  headers?: Record<string, string>
}

export interface HttpBench {
  app: Express
  bench: AccessBench
  plants: Map<string, LivePlant>
  ask(method: string, path: string, options?: AskOptions): Promise<Response>
  close(): Promise<void>
}

/** The HTTP side over a real port, with a watched plant "mill", a simulated one "play", and real access. */
export async function httpBench(given: Partial<BenchOptions> = {}): Promise<HttpBench> {
  const bench = accessBench(given)
  const plants = new Map([WATCHED, SIMULATED].map(livePlant).map((live) => [live.plant.id, live]))
  const trialBench = openTrialBench(plants.get('mill')!, bench.clock.now)
  const history = memoryStore()
  const { trials } = trialBench
  const lessons = createLessons({ state: trialBench.state, clock: bench.clock, plants: () => plants, trials })
  const context: HttpContext = {
    lessons,
    plants: () => plants,
    hub: { snapshot: () => ({ sequence: 1 }) } as unknown as Hub,
    history,
    journal: { newest: () => [], between: () => [] } as unknown as Journal,
    notify: silentNotify(),
    trials: trialBench.trials,
    replays: createReplays({ history, clock: bench.clock, show: () => {}, watching: () => 0 }),
    events: { list: () => [], find: () => undefined } as unknown as EventStore,
    broker: { publish: () => true } as unknown as Broker,
    health: () => ({ stages: [], queues: [], source: {}, storing: {} }) as unknown as HealthReply,
    now: bench.clock.now,
    access: bench.access,
  }
  const app = createApp(context, { webFolder: '/nowhere', host: '127.0.0.1' })
  const server = createServer(app)
  await new Promise<void>((resolve) => server.listen(0, '127.0.0.1', resolve))
  const base = `http://127.0.0.1:${(server.address() as AddressInfo).port}`
  return {
    app,
    bench,
    plants,
    ask: (method, path, { token, body, headers = {} } = {}) =>
      fetch(base + path, {
        method,
        headers: {
          ...(method === 'GET' || method === 'DELETE' ? {} : { 'content-type': 'application/json' }),
          ...(token === undefined ? {} : { cookie: `headrace=${token}` }),
          ...headers,
        },
        ...(body === undefined ? {} : { body: JSON.stringify(body) }),
      }),
    async close() {
      await new Promise((resolve) => server.close(resolve))
      bench.close()
      await trialBench.close()
    },
  }
}

function livePlant(text: string): LivePlant {
  return createLivePlant(plantOf(text), {
    journal: memoryJournal(),
    counterStore: { load: () => undefined, days: () => [], save: () => true },
    mono: () => 0,
    onTransition: () => {},
  })
}
