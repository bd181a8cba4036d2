import type { Server } from 'socket.io'
import type { ClientToServer, ServerToClient } from '../wire/socketEvents.ts'
import { hashSecret } from './codes.ts'
import type { Cookie } from './visitor.ts'

/**
 * A live connection lasts no longer than the session or seat that it was opened with: it is cut off, the page comes back
 * by itself, and then has the rights of somebody who is not signed in.
 */
export function guardSockets(
  io: Server<ClientToServer, ServerToClient>,
  cookie: Pick<Cookie, 'read'>,
  held: { onEnded(listener: (key: string) => void): void },
): void {
  const roomOf = (key: string) => `opened with ${key}`
  io.on('connection', (socket) => {
    const token = cookie.read(socket.request)
    if (token !== undefined) void socket.join(roomOf(hashSecret(token)))
  })
  held.onEnded((key) => io.in(roomOf(key)).disconnectSockets(true))
}
