import type { Socket } from 'node:net'
import type { SparseLog } from '../../sparseLog.ts'
import type { EmbeddedSettings } from './embeddedOptions.ts'
import { createPacketGuard, guardSocket, type OversizePacket } from './packetGuard.ts'
import { writePatiently } from './slowReaders.ts'

/** Lets sockets in, within limits, and remembers them. */
export interface Door {
  /** False: the socket was closed at once. */
  admit(socket: Socket): boolean
  /** Resolves when everything written to the sockets so far is handed to the operating system. */
  flushed(): Promise<unknown>
  closeAll(): void
}

export function createDoor(settings: EmbeddedSettings, log: SparseLog, onOversize: () => void): Door {
  const sockets = new Set<Socket>()
  const perAddress = new Map<string, number>()

  function hasRoomFor(address: string): boolean {
    return (
      sockets.size < settings.maxConnections &&
      (perAddress.get(address) ?? 0) < settings.maxConnectionsPerAddress
    )
  }

  function keep(socket: Socket, address: string): void {
    sockets.add(socket)
    perAddress.set(address, (perAddress.get(address) ?? 0) + 1)
    socket.once('close', () => {
      sockets.delete(socket)
      const others = perAddress.get(address)! - 1
      if (others > 0) perAddress.set(address, others)
      else perAddress.delete(address)
    })
  }

  return {
    admit(socket) {
      const address = socket.remoteAddress ?? ''
      if (!hasRoomFor(address)) {
        log('full', `broker: a connection from ${address} was refused: too many connections`)
        socket.destroy()
        return false
      }
      keep(socket, address)
      const guard = createPacketGuard(settings.maxPacketBytes, (packet) => {
        onOversize()
        log('oversize', oversizeLine(packet, address, settings.maxPacketBytes))
        if (!packet.isSkippable) socket.destroy()
      })
      guardSocket(socket, guard)
      writePatiently(socket, settings.maxBacklogBytes)
      return true
    },
    flushed: () => whenFlushed([...sockets]),
    closeAll() {
      for (const socket of sockets) socket.destroy()
    },
  }
}

function oversizeLine({ bytes, topic, isSkippable }: OversizePacket, address: string, limit: number): string {
  const where = topic === undefined ? '' : ` to topic "${topic.slice(0, 200)}"`
  const end = isSkippable ? '' : '; its connection was closed'
  return `broker: a packet of ${bytes} bytes from ${address}${where} was refused, at most ${limit} are taken${end}`
}

function whenFlushed(sockets: readonly Socket[]): Promise<unknown> {
  const busy = sockets.filter((socket) => socket.writableLength > 0 && socket.writable)
  return Promise.all(busy.map((socket) => new Promise((resolve) => socket.write('', resolve))))
}
