import type { Server } from 'socket.io'
import type { ClientToServer, ServerToClient } from '../wire/socketEvents.ts'
import { hashSecret } from './codes.ts'
import type { Access } from './openAccess.ts'
import { readVisitor } from './visitor.ts'

/**
 * A live connection lasts no longer than the session that it was opened with: it is cut off, the page comes back
 * by itself, and then has the rights of somebody who is not signed in.
 */
export function guardSockets(io: Server<ClientToServer, ServerToClient>, access: Access): void {
  const roomOf = (key: string) => `session ${key}`
  io.on('connection', (socket) => {
    const { token } = readVisitor(socket.request)
    if (token !== undefined) void socket.join(roomOf(hashSecret(token)))
  })
  access.sessions.onEnded((key) => io.in(roomOf(key)).disconnectSockets(true))
}
