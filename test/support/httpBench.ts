import type { Options } from '../../server/options.ts'
import type { Plant } from '../../server/plant/plant.ts'
import type { Role } from '../../server/wire/access.ts'
import { addPerson } from './accessBench.ts'
import type { Limits } from './limits.ts'
import { plantOf, THREE_SENSORS } from './plants.ts'
import { type TestHeadrace, testHeadrace } from './testHeadrace.ts'

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
    - { id: head, name: Head, kind: slider, min: 8, max: 28, unit: m, topic: play/simulator/command/head, initial: 24 }
    - { id: mode, name: Mode, kind: choice, choices: [{ id: a, name: A }], topic: play/simulator/command/mode, initial: a }
`

export interface AskOptions {
  token?: string | undefined
  body?: unknown
  headers?: Record<string, string>
}

export interface HttpBench {
  headrace: TestHeadrace
  ask(method: string, path: string, options?: AskOptions): Promise<Response>
  /** Makes a user, as `addPerson`. */
  person(name: string, role: Role): Promise<string>
  /** A message from an instrument now, and the tick after it. */
  measure(topic: string, payload: string): void
  close(): Promise<void>
}

/** The whole server, asked over HTTP; where no plants are given, a watched one "mill" and a simulated one "play". */
export async function httpBench(
  options: Partial<Options> = {},
  plants: readonly Plant[] = [plantOf(WATCHED), plantOf(SIMULATED)],
  limits?: Limits,
): Promise<HttpBench> {
  const headrace = await testHeadrace({ plants, options, ...(limits ? { limits } : {}) })
  const { clock } = headrace
  return {
    headrace,
    ask: (method, path, { token, body, headers = {} } = {}) =>
      fetch(headrace.url + path, {
        method,
        headers: {
          ...(method === 'GET' || method === 'DELETE' ? {} : { 'content-type': 'application/json' }),
          cookie: token === undefined ? headrace.machine : `headrace=${token}`,
          ...headers,
        },
        ...(body === undefined ? {} : { body: JSON.stringify(body) }),
      }),
    person: (name, role) =>
      addPerson({ access: headrace.pageSide.access, notices: headrace.notices }, name, role),
    measure(topic, payload) {
      headrace.broker.deliver({ topic, payload, receivedAt: clock.now() })
      clock.advance(200)
    },
    close: headrace.close,
  }
}
