import { io as connect, type Socket } from 'socket.io-client'
import type { Options } from '../../server/options.ts'
import type { FigureValue } from '../../server/wire/figure.ts'
import type { DeskReply } from '../../server/wire/lesson.ts'
import type { ClientToServer, JoinReply, ServerToClient } from '../../server/wire/socketEvents.ts'
import { createSite, type Site } from '../../simulator/site.ts'
import { BENCH_PLACE } from './accessBench.ts'
import { expectDescribed } from './describedReplies.ts'
import type { Readable } from './readableHistory.ts'
import { type TestHeadrace, testHeadrace } from './testHeadrace.ts'

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
  headrace: TestHeadrace
  site: Site
  /** A figure of the rig as the server has it now. */
  figure(id: string): FigureValue
  /** Lets rig and server go on together. */
  play(seconds: number): void
  /** Signed in as an operator. */
  teacher: Caller
  /** A browser without anything. */
  stranger(): Caller
  /** A phone that has joined. */
  phone(group: string, code?: string): Promise<Caller>
  /** Opens a lesson and keeps its number and code. */
  openLesson(title?: string): Promise<{ id: number; code: string }>
  desk(id: number): Promise<DeskReply>
  /** The same folder opened again by another server. */
  restart(): Promise<void>
  close(): Promise<void>
}

const STEP_MS = 20

/** A whole server with a simulated rig: requests and sockets go over a real port, time does not go by itself. */
export async function lessonBench(options: Partial<Options> = {}, history?: Readable): Promise<LessonBench> {
  const site = createSite('quennerby')
  const headrace = await testHeadrace({ plants: [site.plant], options, ...(history ? { history } : {}) })
  const { clock } = headrace
  const live = () => headrace.live('quennerby')
  const sockets: PhoneSocket[] = []
  let lastCode = ''
  let lastLesson = 0
  let teacher = signInTeacher()

  function signInTeacher(): Caller {
    const { administer, sessions } = headrace.pageSide.access
    if (administer.list().length === 0) administer.add('Teacher', 'operator')
    return caller(`headrace=${sessions.start(administer.list()[0]!.id, BENCH_PLACE)}`)
  }

  function play(seconds: number): void {
    for (const end = clock.now() + seconds * 1000; clock.now() < end; ) {
      site.step(STEP_MS / 1000)
      clock.advance(STEP_MS)
      for (const message of site.messages(clock.now()))
        headrace.broker.deliver({ ...message, receivedAt: clock.now() })
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
        const response = await fetch(headrace.url + path, {
          method,
          headers: { ...headers(), ...(body ? { 'content-type': 'application/json' } : {}) },
          ...(body ? { body: JSON.stringify(body) } : {}),
        })
        const set = response.headers.getSetCookie().at(-1)
        if (set) held = set.split(';')[0]!
        const text = await response.text()
        const reply = text.startsWith('{') || text.startsWith('[') ? JSON.parse(text) : text
        if (response.status === 200 && typeof reply === 'object') expectDescribed(method, path, reply)
        return { status: response.status, reply }
      },
      async bytes(path) {
        return new Uint8Array(await (await fetch(headrace.url + path, { headers: headers() })).arrayBuffer())
      },
      socket() {
        const socket: PhoneSocket = connect(headrace.url, {
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
    // Of a group that is there already the word stands on the desk.
    const name = group.trim().toLowerCase()
    const groups = lastLesson === 0 ? [] : (await desk(lastLesson)).groups
    const word = groups.find((known) => known.name.toLowerCase() === name)?.word
    const wish = { code, group, ...(word === undefined ? {} : { word }) }
    const { status, reply } = await one.ask('POST', '/api/seat', wish)
    if (status !== 200) throw new Error(JSON.stringify(reply))
    return one
  }

  async function openLesson(title = 'Test lesson') {
    const opened = await teacher.ask<{ lesson: number }>('POST', '/api/plants/quennerby/lessons', {
      title,
    })
    const id = opened.reply.lesson
    const { code } = await desk(id)
    lastCode = code!
    lastLesson = id
    return { id, code: code! }
  }

  async function desk(id: number): Promise<DeskReply> {
    return (await teacher.ask<DeskReply>('GET', `/api/lessons/${id}`)).reply
  }

  async function restart(): Promise<void> {
    for (const socket of sockets.splice(0)) socket.disconnect()
    await headrace.restart()
    teacher = signInTeacher()
    site.resend()
  }

  async function close(): Promise<void> {
    for (const socket of sockets.splice(0)) socket.disconnect()
    await headrace.close()
  }

  play(5)
  return {
    headrace,
    site,
    figure: (id) => live().evaluator.view(live().plan.indexOf.get(id)!),
    play,
    get teacher() {
      return teacher
    },
    stranger,
    phone,
    openLesson,
    desk,
    restart,
    close,
  }
}

/** Joins a scene over a socket. */
export function joinScene(socket: PhoneSocket, scene: string): Promise<JoinReply> {
  return socket.emitWithAck('join', scene)
}
