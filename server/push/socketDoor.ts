import type { IncomingMessage } from 'node:http'
import type { Server, Socket } from 'socket.io'
import type { Requester } from '../access/openAccess.ts'
import { createAllowance, createAllowances, type Rate } from '../allowance.ts'
import type { Clock } from '../clock.ts'
import type { QueueHealth } from '../wire/replies.ts'
import type { ClientToServer, ServerToClient } from '../wire/socketEvents.ts'

type PageSocket = Socket<ClientToServer, ServerToClient>

export interface SocketLimits {
  /** Connections in all. */
  sockets: number
  /** Of these for people who are not signed in and sit in no lesson. */
  strangers: number
  /** Of one person, one phone, one network. */
  of: Record<Requester['kind'], number>
  /** New connections of one of these. */
  connecting: Rate
  /** Messages of one connection, receipts of frames included. */
  messages: Rate
  joins: Rate
  /** Messages of one connection before it is let in; a browser sends one. */
  before: Rate
  /** Whoever has not joined anything after this long [ms] is cut off. */
  patienceMs: number
}

export const USUAL_SOCKET_LIMITS: SocketLimits = {
  sockets: 1000,
  strangers: 500,
  of: { person: 50, seat: 5, stranger: 200 },
  connecting: { perSecond: 10, burst: 100 },
  messages: { perSecond: 50, burst: 200 },
  joins: { perSecond: 2, burst: 20 },
  before: { perSecond: 0.1, burst: 5 },
  patienceMs: 10_000,
}

export interface SocketDoorOptions {
  clock: Clock
  limits: SocketLimits
  requester: (request: IncomingMessage) => Requester
  /** False for whoever would be refused at every join. */
  mayWatch: (request: IncomingMessage) => boolean
}

/** What the page answers to who has no right; it leads to the sign-in. */
const SIGN_IN = 'Sign in to see this plant.'

/** Lets browsers' live connections in, within limits; @returns what health says of them. */
export function guardDoor(
  io: Server<ClientToServer, ServerToClient>,
  { clock, limits, requester, mayWatch }: SocketDoorOptions,
): () => QueueHealth[] {
  const inside = new Map<PageSocket, Requester>()
  /** Ends the limit of those who are not let in yet. */
  const letIn = new WeakMap<PageSocket['conn'], () => void>()
  const connecting = createAllowances('new live connections', limits.connecting, clock.mono)
  let refused = 0

  function faultOf(who: Requester, request: IncomingMessage): string | undefined {
    if (!mayWatch(request)) return SIGN_IN
    const others = [...inside.values()]
    const strangers = others.filter(({ kind }) => kind === 'stranger').length
    const isFull =
      others.length >= limits.sockets ||
      (who.kind === 'stranger' && strangers >= limits.strangers) ||
      others.filter(({ key }) => key === who.key).length >= limits.of[who.kind]
    return isFull ? 'Too many viewers. Try again later.' : undefined
  }

  /** Of what has arrived on it nothing more is read. */
  function cutOff({ conn }: Pick<PageSocket, 'conn'>): void {
    refused++
    conn.close(true)
    conn.request.socket.destroy()
  }

  io.engine.use((request: IncomingMessage, _response: unknown, next: (fault?: Error) => void) =>
    next(connecting.take(requester(request).key) ? undefined : new Error('too many new connections')),
  )
  io.engine.on('connection', (conn: PageSocket['conn']) => {
    const before = createAllowance(limits.before, clock.mono)
    const listen = () => {
      if (!before.take()) cutOff({ conn })
    }
    conn.on('packet', listen)
    letIn.set(conn, () => conn.off('packet', listen))
  })
  io.use((socket, next) => {
    const who = requester(socket.request)
    const fault = faultOf(who, socket.request)
    if (fault === undefined) {
      inside.set(socket, who)
      socket.conn.once('close', () => inside.delete(socket))
      return next()
    }
    refused++
    next(Object.assign(new Error(fault), fault === SIGN_IN ? { data: { signIn: true } } : {}))
    // The library would keep the connection below for another try.
    clock.after(500, () => socket.conn.close())
  })
  io.on('connection', (socket) => {
    letIn.get(socket.conn)?.()
    const messages = createAllowance(limits.messages, clock.mono)
    socket.conn.on('packet', () => {
      if (!messages.take()) cutOff(socket)
    })
    const joins = createAllowance(limits.joins, clock.mono)
    let hasJoined = false
    socket.use(([event], next) => {
      if (event === 'join' && !joins.take()) return cutOff(socket)
      hasJoined ||= event === 'join'
      next()
    })
    clock.after(limits.patienceMs, () => {
      if (!hasJoined && socket.connected) cutOff(socket)
    })
  })
  return () => [
    {
      name: 'live connections',
      length: inside.size,
      limit: limits.sockets,
      policy: `${limits.strangers} of them without a sign-in, ${limits.of.stranger} of one network; more are refused, what joins or sends too often is cut off`,
      dropped: refused,
    },
    connecting.queue(),
  ]
}
