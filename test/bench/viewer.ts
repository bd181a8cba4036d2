import { io, type Socket } from 'socket.io-client'
import type { ClientToServer, ServerToClient } from '../../server/wire/socketEvents.ts'
import { PLANT } from './plantFile.ts'

/** A browser's socket: joins the bench plant and takes in every frame at once. Returns the function that leaves. */
export async function joinAsViewer(url: string): Promise<() => void> {
  const socket: Socket<ServerToClient, ClientToServer> = io(url, { transports: ['websocket'] })
  socket.on('frame', (_frame, done) => done())
  const reply = await socket.timeout(5000).emitWithAck('join', PLANT)
  if (!reply.ok) throw new Error(`the server refused the bench plant: ${reply.error}`)
  return () => socket.disconnect()
}
