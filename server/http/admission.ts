import type { IncomingMessage, Server, ServerResponse } from 'node:http'
import type { Socket } from 'node:net'
import type { Requester } from '../access/openAccess.ts'
import { createAllowances, type Rate } from '../allowance.ts'
import type { Clock } from '../clock.ts'
import { createCounts } from '../counts.ts'
import { isLoopback, networkOf } from '../hosts.ts'
import type { Tell } from '../log.ts'
import { createSparseLog } from '../sparseLog.ts'
import type { ErrorReply, QueueHealth } from '../wire/replies.ts'

/** What one side of the HTTP interface may ask of this server. */
export interface AdmissionLimits {
  /** Open connections; the rest of what the operating system lets this process open is for sensors and files. */
  connections: number
  /** The same from one network; a proxy on this machine stands for many. */
  connectionsPerNetwork: number
  /** Requests of one connection that wait for their answer: browsers send one after the other. */
  unansweredPerConnection: number
  /** Requests of one person, phone or network that wait for their answer. */
  unanswered: number
  requests: Record<Requester['kind'], Rate>
  /** Files of the page: many at its first opening, each cheap. */
  files: Rate
  /** All strangers together, so that many addresses are no more than one. */
  strangers: Rate
}

const OPEN_FILES = openFilesLimit()

export const USUAL_LIMITS: AdmissionLimits = {
  connections: Math.min(1500, Math.floor(OPEN_FILES / 2)),
  connectionsPerNetwork: Math.min(400, Math.floor(OPEN_FILES / 4)),
  unansweredPerConnection: 4,
  unanswered: 48,
  requests: {
    person: { perSecond: 50, burst: 200 },
    seat: { perSecond: 20, burst: 60 },
    stranger: { perSecond: 50, burst: 200 },
  },
  files: { perSecond: 200, burst: 1000 },
  strangers: { perSecond: 300, burst: 600 },
}

/** A connection has this long [ms] for the headers of a request, for all of it, and may be silent this long. */
const HEADERS_MS = 10_000
const REQUEST_MS = 15_000
const SILENCE_MS = 30_000
/** For the server of HTTP: it looks so often [ms] for connections whose time is over. */
export const LOOKS_FOR_SLOW = { connectionsCheckingInterval: 2000 }

export interface AdmissionOptions {
  clock: Clock
  limits: AdmissionLimits
  requester: (request: IncomingMessage) => Requester
  tell: Tell
}

/** Lets connections and requests in, within limits, before anything is done for them. */
export interface Admission {
  /** Serves what may come in with `listener`. */
  serve(listener: (request: IncomingMessage, response: ServerResponse) => void): void
  queues(): QueueHealth[]
}

export function createAdmission(http: Server, options: AdmissionOptions): Admission {
  const { clock, limits, requester, tell } = options
  const log = createSparseLog((line) => tell(line, 'warn'), clock)
  const connections = limitConnections(http, limits, (address) =>
    log('connections', `page: a connection from ${address} was refused: too many connections`),
  )
  const rates = {
    person: createAllowances('requests of people', limits.requests.person, clock.mono),
    seat: createAllowances('requests of phones in lessons', limits.requests.seat, clock.mono),
    stranger: createAllowances('requests without a sign-in', limits.requests.stranger, clock.mono),
    files: createAllowances('requests for files of the page', limits.files, clock.mono),
    strangers: createAllowances('requests of all strangers', limits.strangers, clock.mono),
  }
  const whenOver = createWhenOver()
  const ofConnection = createUnanswered<Socket>(limits.unansweredPerConnection)
  const ofKey = createUnanswered<string>(limits.unanswered)

  function isWithinRate({ url = '' }: IncomingMessage, { kind, key }: Requester): boolean {
    if (url.startsWith('/assets/')) return rates.files.take(key)
    return rates[kind].take(key) && (kind !== 'stranger' || rates.strangers.take('all'))
  }

  return {
    serve(listener) {
      http.on('request', (request, response) => {
        const { socket } = request
        // Of what was pipelined behind a request that was cut off nothing is answered.
        if (socket.destroyed) return
        const isOver = whenOver(socket, response)
        if (!ofConnection.add(socket, isOver)) return void socket.destroy()
        const who = requester(request)
        if (isWithinRate(request, who) && ofKey.add(who.key, isOver)) listener(request, response)
        else refuse(response)
      })
    },
    queues: () => [
      connections(),
      ...Object.values(rates).map((rate) => rate.queue()),
      {
        name: 'requests without an answer yet',
        length: ofKey.total(),
        limit: limits.connections * limits.unansweredPerConnection,
        policy: `${limits.unanswered} of one person, phone or network; a connection with more than ${limits.unansweredPerConnection} is closed`,
        dropped: ofKey.refused() + ofConnection.refused(),
      },
    ],
  }
}

/** @returns what health says of it. */
function limitConnections(
  http: Server,
  limits: AdmissionLimits,
  onRefused: (address: string) => void,
): () => QueueHealth {
  http.headersTimeout = HEADERS_MS
  http.requestTimeout = REQUEST_MS
  http.timeout = SILENCE_MS
  // Headers beyond the default 2000 would be dropped unseen, and with them that of a proxy. Their bytes are limited.
  http.maxHeadersCount = 0
  const networks = createCounts<string>()
  /** On which no whole request came yet, by their far ends; the one that is open for longest first. */
  const silent = new Map<string, Socket>()
  let open = 0
  let refused = 0
  function refuseSocket(socket: Socket): void {
    refused++
    onRefused(socket.remoteAddress ?? '')
    socket.destroy()
  }
  /** A browser asks at once; whoever has asked nothing for longest gives way. */
  function hasRoom(): boolean {
    if (open < limits.connections) return true
    const [longest] = silent
    if (!longest) return false
    silent.delete(longest[0])
    refuseSocket(longest[1])
    return true
  }
  http.on('request', ({ socket }) => void silent.delete(endOf(socket)))
  http.on('connection', (socket) => {
    const address = (socket.remoteAddress ?? '').replace(/^::ffff:/, '')
    const network = networkOf(address)
    const isFull = networks.of(network) >= limits.connectionsPerNetwork && !isLoopback(address)
    if (isFull || !hasRoom()) return refuseSocket(socket)
    const end = endOf(socket)
    open++
    silent.set(end, socket)
    networks.add(network, 1)
    socket.once('close', () => {
      open--
      silent.delete(end)
      networks.add(network, -1)
    })
  })
  return () => ({
    name: 'connections of the page',
    length: open,
    limit: limits.connections,
    policy: `${limits.connectionsPerNetwork} of one network; more are closed at once, or in their place whoever has asked nothing yet, and counted`,
    dropped: refused,
  })
}

/** The far end of a connection, the same for the socket below TLS and the one above. */
function endOf({ remoteAddress, remotePort }: Socket): string {
  return `${remoteAddress} ${remotePort}`
}

/**
 * Tells once that a response was sent, or that its connection is closed: of what stands behind other requests on it, Node tells
 * nothing then.
 */
function createWhenOver() {
  const ofSocket = new WeakMap<Socket, Set<() => void>>()
  function actsOf(socket: Socket): Set<() => void> {
    const known = ofSocket.get(socket)
    if (known) return known
    const acts = new Set<() => void>()
    ofSocket.set(socket, acts)
    socket.once('close', () => {
      for (const act of acts) act()
    })
    return acts
  }
  return (socket: Socket, response: ServerResponse) => (act: () => void) => {
    const acts = actsOf(socket)
    const once = () => {
      if (acts.delete(once)) act()
    }
    acts.add(once)
    response.once('close', once)
  }
}

/** Counts requests that wait for an answer, by whatever they are counted. */
function createUnanswered<Key>(most: number) {
  const waiting = createCounts<Key>()
  let total = 0
  let refused = 0
  return {
    add(key: Key, isOver: (act: () => void) => void): boolean {
      if (waiting.of(key) >= most) {
        refused++
        return false
      }
      waiting.add(key, 1)
      total++
      isOver(() => {
        total--
        waiting.add(key, -1)
      })
      return true
    },
    total: () => total,
    refused: () => refused,
  }
}

function refuse(response: ServerResponse): void {
  const reply: ErrorReply = { error: 'Too many requests. Try again in a second.' }
  response.writeHead(429, { 'Content-Type': 'application/json', 'Retry-After': '1', Connection: 'close' })
  response.end(JSON.stringify(reply))
}

/** Files and sockets that this process may have open (ulimit -n); where the system does not say, a usual number. */
function openFilesLimit(): number {
  const { userLimits } = process.report.getReport() as {
    userLimits?: { open_files?: { soft?: number | string } }
  }
  const soft = Number(userLimits?.open_files?.soft)
  return Number.isFinite(soft) && soft > 0 ? soft : 4096
}
