import { createServer, type Server as HttpServer } from 'node:http'
import { createServer as createTlsServer } from 'node:https'
import { join } from 'node:path'
import { Server } from 'socket.io'
import { guardSockets } from './access/guardSockets.ts'
import { type Access, openAccess } from './access/openAccess.ts'
import { SEAT_COOKIE, SESSION_COOKIE } from './access/visitor.ts'
import { createEventReader } from './alarms/events/eventStore.ts'
import { createJournalReader } from './alarms/journal.ts'
import { type CertificatePair, TLS_RULES } from './certificate.ts'
import type { Ask } from './channel/questions.ts'
import { ROOT } from './demo.ts'
import type { PageEdges } from './edges.ts'
import { isLoopback } from './hosts.ts'
import { createAdmission, LOOKS_FOR_SLOW, USUAL_LIMITS } from './http/admission.ts'
import { createApp } from './http/createApp.ts'
import { namesFor } from './http/discretion.ts'
import { type Home, isKnownHost, isSameOrigin } from './http/guards.ts'
import { listen } from './http/listen.ts'
import { createCostlyTurns } from './http/turns.ts'
import { createLessons, type Lessons } from './lessons/lessons.ts'
import type { Mirror } from './mirror/mirror.ts'
import { createVerdictWatch, LOOK_MS } from './mirror/verdictWatch.ts'
import { createPageHealth, healthLine } from './pageHealth.ts'
import { createHub, type Hub } from './push/hub.ts'
import { liveScene } from './push/scene.ts'
import { guardDoor, USUAL_SOCKET_LIMITS } from './push/socketDoor.ts'
import { createReplays } from './replay/replays.ts'
import { createTrials, type Trials } from './trials/trials.ts'
import { createTrialThread } from './trials/trialThread.ts'
import type { QueueHealth } from './wire/replies.ts'
import type { ClientToServer, ServerToClient } from './wire/socketEvents.ts'

type PageServer = Server<ClientToServer, ServerToClient>

const LARGEST_CLIENT_MESSAGE = 64_000
/** A connection has this long [ms] to say what it wants. */
const CONNECT_MS = 10_000
const WITHOUT_TLS =
  'Other machines can reach this page without encryption: passwords can be read on the way. Give --tls-certificate and --tls-key, or put a proxy with HTTPS before it.'

/** Page, HTTP interface and sockets, with what people do there: trials, lessons, replays, signing in. */
export interface PageSide {
  mirror: Mirror
  hub: Hub
  access: Access
  trials: Trials
  /** Listens; @returns the address of the page. @throws {StartRefused} where it cannot be served. */
  open(): Promise<string>
  /** For connections that begin from now on; those that are open go on. */
  useCertificate(pair: CertificatePair): void
  close(): Promise<void>
}

/** All that the page side has of the watch: plants to look at, and an ear for questions. */
export interface WatchView {
  mirror: Mirror
  ask: Ask
  /** Questions on their way. */
  asking: () => QueueHealth
}

export function createPageSide(watch: WatchView, edges: PageEdges): PageSide {
  const { clock, options, tell, history } = edges
  const { mirror, ask } = watch
  const activities = createActivities(mirror, edges)
  const { trials, lessons, access } = activities
  const { http, useCertificate } = createPort(options)
  const { io, ...entrances } = openEntrances(http, activities, edges)
  const turns = createCostlyTurns()
  const verdicts = createVerdictWatch({ plants: mirror.plants, ask })
  const { hub, health, replays } = createScenes(io, watch, {
    ...activities,
    edges,
    queues: () => [turns.history.queue(), turns.reports.queue(), ...access.queues(), ...entrances.queues()],
  })
  entrances.serve(
    createApp(
      {
        ...activities,
        ...sourcesOf(edges),
        plants: mirror.plants,
        hub,
        ask,
        history,
        replays,
        health: health.reply,
        turns,
      },
      siteOf(options),
    ),
  )

  const stops = [
    ...follow(mirror.happenings, { hub, lessons, trials }),
    clock.every(options.tickMs, replays.tick),
    clock.every(1000, health.tick),
    clock.every(LOOK_MS, () => verdicts.look(clock.now())),
  ]

  return {
    mirror,
    hub,
    access,
    trials,
    async open() {
      const url = await listen(http, options)
      access.announce(url)
      if (!options.certificate && !isLoopback(options.httpHost)) tell(WITHOUT_TLS, 'warn')
      return url
    },
    useCertificate,
    async close() {
      for (const stop of stops) stop()
      http.closeAllConnections()
      await io.close()
      access.close()
      lessons.close()
      await trials.close()
    },
  }
}

/** With a certificate it speaks TLS and nothing else. */
function createPort({ certificate }: PageEdges['options']) {
  if (!certificate) return { http: createServer(LOOKS_FOR_SLOW), useCertificate: () => {} }
  const http = createTlsServer({ ...LOOKS_FOR_SLOW, ...TLS_RULES, ...certificate })
  const useCertificate = (pair: CertificatePair) => http.setSecureContext({ ...TLS_RULES, ...pair })
  return { http, useCertificate }
}

/** How one comes in, and how much of everything one person, phone or network may ask for. */
function openEntrances(http: HttpServer, { access, lessons }: Activities, edges: PageEdges) {
  const { clock, options, tell, limits } = edges
  const { requester, may } = access
  const io = openSockets(http, homeOf(options))
  const admission = createAdmission(http, { clock, requester, tell, limits: limits?.http ?? USUAL_LIMITS })
  const socketQueues = guardDoor(io, {
    clock,
    requester,
    limits: limits?.sockets ?? USUAL_SOCKET_LIMITS,
    mayWatch: (handshake) => may(handshake, 'read') || may(handshake, 'attend'),
  })
  guardSockets(io, SESSION_COOKIE, access.sessions)
  guardSockets(io, SEAT_COOKIE, lessons.seats)
  return { io, serve: admission.serve, queues: () => [...admission.queues(), ...socketQueues()] }
}

/** What people do, apart from how they come in. */
function createActivities({ plants }: Mirror, edges: PageEdges) {
  const { clock, options, people: state, tell } = edges
  const trials = createTrials({
    state,
    clock,
    plants,
    thread: edges.trialThread ?? createTrialThread(tell),
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

function homeOf({ httpHost, pageName }: PageEdges['options']): Home {
  return { host: httpHost, pageName }
}

/** How the page is served. */
function siteOf(options: PageEdges['options']) {
  const webFolder = join(ROOT, 'dist', 'web')
  return { webFolder, bindsSubdomains: options.httpsSubdomains, ...homeOf(options) }
}

/** The watch's rows, which are read without asking it; the time, and the log. */
function sourcesOf({ watched, clock, tell }: PageEdges) {
  return { journal: createJournalReader(watched), events: createEventReader(watched), now: clock.now, tell }
}

type Activities = ReturnType<typeof createActivities>

interface SceneParts {
  edges: PageEdges
  access: Access
  lessons: Lessons
  /** Beside those of what browsers watch. */
  queues: () => QueueHealth[]
}

/** Everything that browsers can watch: plants, replays, lessons; and how the server is, which stands beside each. */
function createScenes(
  io: PageServer,
  { mirror, ask, asking }: WatchView,
  { edges, access, lessons, queues }: SceneParts,
) {
  const { clock, people, history } = edges
  const hub = createHub(io, mirror.plants, {
    clock,
    surroundings: { source: mirror.source, health: () => healthLine(mirror.health(), people) },
    mayRead: (handshake, scene) => access.may(handshake, 'read') || lessons.mayWatch(handshake, scene),
    rolesFor: (handshake) => namesFor(access, handshake),
  })
  const replays = createReplays({ history, clock, show: hub.show, watching: hub.watching })
  const health = createPageHealth({
    ask,
    clock,
    people,
    hub,
    faults: mirror.happenings.faults,
    queues: () => [asking(), ...queues(), ...ownQueues(edges)],
  })
  hub.offer(replays.scene)
  hub.offer(lessons.scene)
  lessons.attach(hub)
  return { hub, health, replays }
}

function ownQueues({ historyQueue, logQueue }: PageEdges): QueueHealth[] {
  return [historyQueue, logQueue].flatMap((queue) => queue?.() ?? [])
}

/**
 * Only by web socket: no request has to be matched with another. Frames go as they are: packed, at 30 viewers, they are
 * 12 kB/s in place of 48, but wait 10 ms (p99 150) in place of 1 (p99 60), with alarms behind them, and each viewer costs
 * 0.3 MB and half as much CPU again. A slow link gets fewer frames.
 */
function openSockets(http: HttpServer, home: Home): PageServer {
  const io = new Server<ClientToServer, ServerToClient>(http, {
    serveClient: false,
    transports: ['websocket'],
    perMessageDeflate: false,
    maxHttpBufferSize: LARGEST_CLIENT_MESSAGE,
    connectTimeout: CONNECT_MS,
    allowRequest: (request, answer) => answer(null, isSameOrigin(request) && isKnownHost(request, home)),
  })
  // What is no upgrade is answered like every other request, within its limits.
  http.removeAllListeners('request')
  return io
}

/** @returns what stops each of them. */
function follow(
  { reading, lost, transition, figures, plantsChanged }: Mirror['happenings'],
  { hub, lessons, trials }: { hub: Hub; lessons: Lessons; trials: Trials },
): (() => void)[] {
  return [
    reading.add(trials.takeReading),
    lost.add(trials.readingsLost),
    transition.add(({ plant, alarm }) => hub.alarm(plant, alarm)),
    transition.add(({ plant, alarm }) => lessons.alarm(plant, alarm)),
    figures.add(({ plant, changed, alarms }) => hub.show(liveScene(plant), { figures: changed, alarms })),
    plantsChanged.add((ids) => ids.forEach(hub.plantChanged)),
    plantsChanged.add((ids) => ids.forEach(lessons.plantChanged)),
  ]
}
