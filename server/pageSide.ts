import { createServer, type Server as HttpServer } from 'node:http'
import { join } from 'node:path'
import { Server } from 'socket.io'
import { guardSockets } from './access/guardSockets.ts'
import { type Access, openAccess } from './access/openAccess.ts'
import { createAnswers } from './answers.ts'
import { createAskedHistory } from './channel/askedHistory.ts'
import type { Ask } from './channel/questions.ts'
import { ROOT } from './demo.ts'
import type { Edges } from './edges.ts'
import { isLoopback } from './hosts.ts'
import { createAdmission, USUAL_LIMITS } from './http/admission.ts'
import { createApp } from './http/createApp.ts'
import { type Home, isKnownHost, isSameOrigin } from './http/guards.ts'
import { listen } from './http/listen.ts'
import { createTurns } from './http/turns.ts'
import { createLessons, type Lessons } from './lessons/lessons.ts'
import { guardSeats } from './lessons/seats.ts'
import { granted, type Outcome } from './outcome.ts'
import { createHub, type Hub } from './push/hub.ts'
import { liveScene } from './push/scene.ts'
import { guardDoor, USUAL_SOCKET_LIMITS } from './push/socketDoor.ts'
import { createReplays } from './replay/replays.ts'
import { createStageRates } from './stageRates.ts'
import { createTrials, type Trials } from './trials/trials.ts'
import type { Watch } from './watch.ts'
import type { HealthReply } from './wire/replies.ts'
import type { ClientToServer, ServerToClient } from './wire/socketEvents.ts'

type PageServer = Server<ClientToServer, ServerToClient>

const LARGEST_CLIENT_MESSAGE = 64_000
/** A connection has this long [ms] to say what it wants. */
const CONNECT_MS = 10_000
const WITHOUT_TLS =
  'Other machines can reach this page without encryption: passwords can be read on the way. Put a proxy with HTTPS before it.'

/** Page, HTTP interface and sockets, with what people do there: trials, lessons, replays, signing in. */
export interface PageSide {
  hub: Hub
  access: Access
  trials: Trials
  /** Listens; @returns the address of the page. @throws {StartRefused} where it cannot be served. */
  open(): Promise<string>
  close(): Promise<void>
}

/** Looks at the watch through what it tells, and never holds it up. */
export function createPageSide(watch: Watch, edges: Edges): PageSide {
  const { clock, options, tell } = edges
  const answers = createAnswers(watch, edges)
  const ask: Ask = async (question, asked) => answers[question](asked)
  const home = { host: options.httpHost, pageName: options.pageName }
  const activities = createActivities(watch, edges)
  const { trials, lessons, access } = activities
  const http = createServer()
  const io = openSockets(http, home)
  const entrances = guardEntrances({ http, io }, access, edges)
  guardSockets(io, access)
  guardSeats(io, lessons.seats)
  const turns = createTurns()
  const { hub, replays } = createScenes(io, watch, { edges, access, lessons })
  const rates = createStageRates(clock, () => [
    {
      name: 'page side',
      total: hub.framesSent(),
      faults: watch.happenings.faults(),
      detail: `frames to ${hub.viewers()} watching; faults of all that listens, trials and lessons too`,
    },
  ])

  async function health(): Promise<Outcome<HealthReply>> {
    const outcome = await ask('health', null)
    if (!outcome.ok) return outcome
    const { stages, queues, ...rest } = outcome.value
    return granted({
      ...rest,
      stages: [...stages, ...rates.stages()],
      queues: [...queues, hub.queue(), ...turns.queues(), ...access.queues(), ...entrances.queues()],
    })
  }

  entrances.serve(
    createApp(
      {
        ...activities,
        plants: () => watch.plants,
        hub,
        ask,
        history: createAskedHistory(ask),
        journal: watch.journal,
        events: watch.events,
        replays,
        health,
        now: clock.now,
        turns,
      },
      { webFolder: join(ROOT, 'dist', 'web'), ...home },
    ),
  )

  const stops = [
    ...follow(watch, { hub, lessons, trials }),
    clock.every(options.tickMs, replays.tick),
    clock.every(1000, rates.tick),
  ]

  return {
    hub,
    access,
    trials,
    async open() {
      const url = await listen(http, options)
      access.announce(url)
      if (!isLoopback(options.httpHost)) tell(WITHOUT_TLS)
      return url
    },
    async close() {
      for (const stop of stops) stop()
      await new Promise<void>((resolve) => {
        http.closeAllConnections()
        void io.close(() => resolve())
      })
      access.close()
      lessons.close()
      await trials.close()
    },
  }
}

/** How much of everything one person, phone or network may ask for. */
function guardEntrances({ http, io }: { http: HttpServer; io: PageServer }, access: Access, edges: Edges) {
  const { clock, tell, limits } = edges
  const { standing, may } = access
  const admission = createAdmission(http, { clock, standing, tell, limits: limits?.http ?? USUAL_LIMITS })
  const socketQueues = guardDoor(io, {
    clock,
    standing,
    limits: limits?.sockets ?? USUAL_SOCKET_LIMITS,
    mayWatch: (handshake) => may(handshake, 'read') || may(handshake, 'attend'),
  })
  return { serve: admission.serve, queues: () => [...admission.queues(), ...socketQueues()] }
}

/** What people do, apart from how they come in. */
function createActivities(watch: Watch, edges: Edges) {
  const { clock, options, state, tell } = edges
  const plants = () => watch.plants
  const trials = createTrials({
    state,
    clock,
    plants,
    ...(edges.trialThread ? { thread: edges.trialThread } : {}),
  })
  const lessons = createLessons({ state, clock, plants, trials })
  const access = openAccess({
    state,
    clock,
    options,
    seats: lessons.seats,
    onNotice: tell,
    ...(edges.passwords ? { passwords: edges.passwords } : {}),
  })
  return { trials, lessons, access }
}

/** Everything that browsers can watch: plants, replays, lessons. */
function createScenes(
  io: PageServer,
  watch: Watch,
  { edges, access, lessons }: { edges: Edges; access: Access; lessons: Lessons },
) {
  const { clock, history, broker } = edges
  const hub = createHub(io, () => watch.plants, {
    clock,
    surroundings: { source: broker.status, health: watch.health.line },
    mayRead: (handshake, scene) => access.may(handshake, 'read') || lessons.mayWatch(handshake, scene),
  })
  const replays = createReplays({ history, clock, show: hub.show, watching: hub.watching })
  hub.offer(replays.scene)
  hub.offer(lessons.scene)
  lessons.attach(hub)
  return { hub, replays }
}

/** Only by web socket: no request has to be matched with another. */
function openSockets(http: HttpServer, home: Home): PageServer {
  return new Server<ClientToServer, ServerToClient>(http, {
    serveClient: false,
    transports: ['websocket'],
    maxHttpBufferSize: LARGEST_CLIENT_MESSAGE,
    connectTimeout: CONNECT_MS,
    allowRequest: (request, answer) => answer(null, isSameOrigin(request) && isKnownHost(request, home)),
  })
}

/** @returns what stops each of them. */
function follow(
  { happenings: { reading, transition, figures, plantsChanged } }: Watch,
  { hub, lessons, trials }: { hub: Hub; lessons: Lessons; trials: Trials },
): (() => void)[] {
  return [
    reading.add(trials.takeReading),
    transition.add(({ plant, alarm }) => hub.alarm(plant, alarm)),
    transition.add(({ plant, alarm }) => lessons.alarm(plant, alarm)),
    figures.add(({ live, changed }) =>
      hub.show(liveScene(live), { figures: changed, alarms: live.board.takeChanged() }),
    ),
    plantsChanged.add((ids) => ids.forEach(hub.plantChanged)),
    plantsChanged.add((ids) => ids.forEach(lessons.plantChanged)),
  ]
}
