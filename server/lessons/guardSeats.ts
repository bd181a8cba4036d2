import type { Server } from 'socket.io'
import type { ClientToServer, ServerToClient } from '../wire/socketEvents.ts'
import type { Seats } from './seats.ts'

/** A live connection of a phone lasts no longer than its seat, or its lesson. */
export function guardSeats(io: Server<ClientToServer, ServerToClient>, seats: Seats): void {
  const roomOf = (key: string) => `seat ${key}`
  io.on('connection', (socket) => {
    const seat = seats.of(socket.request)
    if (seat) void socket.join(roomOf(seat.key))
  })
  seats.onEnded((key) => io.in(roomOf(key)).disconnectSockets(true))
}
