import { io as connect, type Socket } from 'socket.io-client'
import { memoryStore } from '../../server/history/stores/memory.ts'
import type { HttpContext } from '../../server/http/context.ts'
import type { LivePlant } from '../../server/livePlant.ts'
import type { Options } from '../../server/options.ts'
import { type PageServer, startPageServer } from '../../server/pageServer.ts'
import { openState, type State } from '../../server/state/openState.ts'
import { createTrials, type Trials } from '../../server/trials/trials.ts'
import type { ClientToServer, JoinReply, ServerToClient } from '../../server/wire/events.ts'
import type { DeskReply } from '../../server/wire/lesson.ts'
import { type ManualClock, manualClock } from './manualClock.ts'
import { silentNotify } from './notifyBench.ts'
import { type PlayedPlant, playPlant } from './playedPlant.ts'
import { scratchFolder } from './scratch.ts'

export type PhoneSocket = Socket<ServerToClient, ClientToServer>

export interface Caller {
  /** JSON of the answer, and its status. */
  ask<T = Record<string, unknown>>(
    method: string,
    path: string,
    body?: object,
  ): Promise<{ status: number; reply: T }>
  bytes(path: string): Promise<Uint8Array>
  cookie(): string
  socket(): PhoneSocket
}

export interface LessonBench {
  page: PageServer
  state: State
  live: LivePlant
  played: PlayedPlant
  clock: ManualClock
  trials: Trials
  /** Lets plant, clock and hub go on together. */
  play(seconds: number): void
  /** Signed in as an operator. */
  teacher: Caller
  /** A browser without anything. */
  stranger(): Caller
  /** A phone that has joined. */
  phone(group: string, code?: string): Promise<Caller>
  /** Opens a class and keeps its number and code. */
  openClass(title?: string): Promise<{ id: number; code: string }>
  desk(id: number): Promise<DeskReply>
  /** The same folder opened again by another server. */
  restart(): Promise<void>
  close(): Promise<void>
}

const STEP_S = 0.5

/** A whole page server on a played rig: requests and sockets go over a real port, time does not go by itself. */
export async function lessonBench(given: Partial<Options> = {}): Promise<LessonBench> {
  const folder = scratchFolder()
  const played = playPlant('quennerby')
  const clock = manualClock(played.now())
  const plants = new Map([[played.live.plant.id, played.live]])
  const sockets: PhoneSocket[] = []
  const bench = {
    played,
    clock,
    live: played.live,
    play,
    openClass,
    desk,
    phone,
    stranger,
    close,
    restart,
  } as LessonBench
  let lastCode = ''

  async function start(): Promise<void> {
    bench.state = openState(folder.path)
    bench.trials = createTrials({ state: bench.state, clock, plants: () => plants })
    const stored = {
      history: memoryStore(),
      journal: { newest: () => [] },
      events: { list: () => [], find: () => undefined },
    }
    const context = {
      ...stored,
      plants: () => plants,
      trials: bench.trials,
      notify: silentNotify(),
      broker: { publish: () => true },
      health: () => ({ stages: [], queues: [], source: {}, storing: {} }),
      now: clock.now,
    } as unknown as HttpContext
    bench.page = await startPageServer(context, {
      options: {
        httpHost: '127.0.0.1',
        httpPort: 0,
        plants: ['a.yaml'],
        demo: false,
        ...NO_OPTIONS,
        ...given,
      } as Options,
      clock,
      surroundings: {
        source: () => ({ connected: true, name: 'test', since: null }),
        health: () => ({ faults: 0, unmapped: 0, storing: true }),
      },
      state: bench.state,
    })
    const { administer, sessions } = bench.page.access
    if (administer.list().length === 0) administer.add('Teacher', 'operator')
    bench.teacher = caller(`headrace=${sessions.start(administer.list()[0]!.id)}`)
  }

  function play(seconds: number): void {
    for (let done = 0; done < seconds; done += STEP_S) {
      played.run(STEP_S)
      clock.advance(STEP_S * 1000)
      bench.page.hub.tick(
        played.live,
        played.live.view.figures.map((_, index) => index),
      )
    }
  }

  function caller(cookie = ''): Caller {
    let held = cookie
    const headers = () => ({
      ...(held === '' ? {} : { cookie: held }),
      'x-forwarded-for': '192.0.2.7',
      // a plant played for many seconds holds the process up longer than an idle connection lasts
      connection: 'close',
    })
    return {
      cookie: () => held,
      async ask(method, path, body) {
        const response = await fetch(bench.page.url + path, {
          method,
          headers: { ...headers(), ...(body ? { 'content-type': 'application/json' } : {}) },
          ...(body ? { body: JSON.stringify(body) } : {}),
        })
        const set = response.headers.getSetCookie().at(-1)
        if (set) held = set.split(';')[0]!
        const text = await response.text()
        return {
          status: response.status,
          reply: text.startsWith('{') || text.startsWith('[') ? JSON.parse(text) : text,
        }
      },
      async bytes(path) {
        return new Uint8Array(
          await (await fetch(bench.page.url + path, { headers: headers() })).arrayBuffer(),
        )
      },
      socket() {
        const socket: PhoneSocket = connect(bench.page.url, {
          transports: ['websocket'],
          extraHeaders: headers(),
          forceNew: true,
        })
        sockets.push(socket)
        return socket
      },
    }
  }

  function stranger(): Caller {
    return caller()
  }

  async function phone(group: string, code = lastCode): Promise<Caller> {
    const one = caller()
    const { status, reply } = await one.ask('POST', '/api/class/seat', { code, group })
    if (status !== 200) throw new Error(JSON.stringify(reply))
    return one
  }

  async function openClass(title = 'Test class') {
    const opened = await bench.teacher.ask<{ lesson: number }>('POST', '/api/plants/quennerby/lessons', {
      title,
    })
    const id = opened.reply.lesson
    const { code } = await desk(id)
    lastCode = code!
    return { id, code: code! }
  }

  async function desk(id: number): Promise<DeskReply> {
    return (await bench.teacher.ask<DeskReply>('GET', `/api/lessons/${id}`)).reply
  }

  async function stop(): Promise<void> {
    for (const socket of sockets.splice(0)) socket.disconnect()
    await bench.page.close()
    bench.state.close()
  }

  async function restart(): Promise<void> {
    await stop()
    await start()
  }

  async function close(): Promise<void> {
    await stop()
    folder.remove()
  }

  await start()
  played.run(5)
  clock.advance(5000)
  return bench
}

const NO_OPTIONS = { openReading: false, newSetupCode: false, pageName: null }

/** Joins a scene over a socket. */
export function joinScene(socket: PhoneSocket, scene: string): Promise<JoinReply> {
  return socket.emitWithAck('join', scene)
}
