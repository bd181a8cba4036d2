import type { Socket } from 'node:net'
import { createCounts } from '../../counts.ts'
import { networkOf } from '../../hosts.ts'
import type { SparseLog } from '../../sparseLog.ts'
import { shown } from './embeddedAccess.ts'
import type { EmbeddedSettings } from './embeddedOptions.ts'
import { createPacketGuard, guardSocket, type OversizePacket } from './packetGuard.ts'
import { writePatiently } from './slowReaders.ts'

/** Lets sockets in, within limits, and remembers them. */
export interface Door {
  /** Whether a connection may come in; false: it was closed at once. */
  admit(connection: Socket): boolean
  /** Watches over what is said on it; with TLS that is another socket than the one let in. */
  guard(socket: Socket): void
  /** Whoever is behind this connection has logged in. */
  known(socket: object): void
  /** Time [ms] since something came on this connection. */
  silentMs(socket: object): number
  /** Resolves when everything written to the sockets so far is handed to the operating system. */
  flushed(): Promise<unknown>
  closeAll(): void
}

export function createDoor(settings: EmbeddedSettings, log: SparseLog, onOversize: () => void): Door {
  const sockets = new Set<Socket>()
  const perAddress = createCounts<string>()
  /** Connections that have not logged in, by address. */
  const unknown = createCounts<string>()
  /** Of these, the one that has waited longest first. */
  const strangers = new Map<string, { network: string; socket: Socket }>()
  /** On which packets come and go. */
  const guarded = new Set<Socket>()
  const paces = new WeakMap<object, ReturnType<typeof createPace>>()

  function hasRoomFor(network: string): boolean {
    return (
      sockets.size < settings.maxConnections &&
      perAddress.of(network) < settings.maxConnectionsPerAddress &&
      unknown.of(network) < settings.maxUnknown
    )
  }

  /** A sensor logs in at once; whoever has said nothing for longest is not one. */
  function makeRoom(): void {
    if (strangers.size < settings.maxConnections / 2) return
    const [oldest] = strangers
    if (!oldest) return
    const [end, { socket }] = oldest
    log(
      'full',
      `broker: a connection from ${socket.remoteAddress} that had not logged in was closed for others`,
    )
    known(end)
    socket.destroy()
  }

  function keep(socket: Socket, network: string): void {
    sockets.add(socket)
    perAddress.add(network, 1)
    const end = endOf(socket)
    strangers.set(end, { network, socket })
    unknown.add(network, 1)
    socket.once('close', () => {
      sockets.delete(socket)
      perAddress.add(network, -1)
      known(end)
    })
  }

  function known(end: string): void {
    const stranger = strangers.get(end)
    if (stranger === undefined) return
    strangers.delete(end)
    unknown.add(stranger.network, -1)
  }

  return {
    admit(socket) {
      const address = socket.remoteAddress ?? ''
      const network = networkOf(address)
      makeRoom()
      if (!hasRoomFor(network)) {
        log('full', `broker: a connection from ${address} was refused: too many connections`)
        socket.destroy()
        return false
      }
      keep(socket, network)
      return true
    },
    guard(socket) {
      const address = socket.remoteAddress ?? ''
      guarded.add(socket)
      socket.once('close', () => guarded.delete(socket))
      const pace = createPace(settings, () =>
        log(
          'pace',
          `broker: ${address} sends more than ${settings.maxPacketsPerSecond} packets/s; it is made to wait`,
        ),
      )
      paces.set(socket, pace)
      const refused = (packet: OversizePacket) => {
        onOversize()
        log('oversize', oversizeLine(packet, address, settings.maxPacketBytes))
        if (!packet.isSkippable) socket.destroy()
      }
      guardSocket(socket, createPacketGuard(settings.maxPacketBytes, refused, pace.packet), pace)
      writePatiently(socket, settings.maxBacklogBytes)
    },
    known: (socket) => known(endOf(socket as Socket)),
    silentMs: (socket) => paces.get(socket)?.silentMs() ?? Number.POSITIVE_INFINITY,
    flushed: () => whenFlushed([...guarded]),
    closeAll() {
      for (const socket of sockets) socket.destroy()
    },
  }
}

/** The far end of an open connection, the same for the socket below TLS and the one above. */
function endOf({ remoteAddress, remotePort }: Socket): string {
  return `${remoteAddress} ${remotePort}`
}

/** A second's worth of packets at once; after that no faster than the limit. */
function createPace({ clock, maxPacketsPerSecond }: EmbeddedSettings, onWait: () => void) {
  let debt = 0
  let at = clock.mono()
  return {
    packet: () => void debt++,
    silentMs: () => clock.mono() - at,
    waitMs() {
      const now = clock.mono()
      debt = Math.max(0, debt - ((now - at) * maxPacketsPerSecond) / 1000)
      at = now
      const over = debt - maxPacketsPerSecond
      if (over <= 0) return 0
      onWait()
      return Math.ceil((1000 * over) / maxPacketsPerSecond)
    },
    after: (delayMs: number, task: () => void) => void clock.after(delayMs, task),
  }
}

function oversizeLine({ bytes, topic, isSkippable }: OversizePacket, address: string, limit: number): string {
  const where = topic === undefined ? '' : ` to topic "${shown(topic)}"`
  const end = isSkippable ? '' : '; its connection was closed'
  return `broker: a packet of ${bytes} bytes from ${address}${where} was refused, at most ${limit} are taken${end}`
}

function whenFlushed(sockets: readonly Socket[]): Promise<unknown> {
  const busy = sockets.filter((socket) => socket.writableLength > 0 && socket.writable)
  return Promise.all(busy.map((socket) => new Promise((resolve) => socket.write('', resolve))))
}
