import { type AddressInfo, createServer, type Socket } from 'node:net'
import { Aedes } from 'aedes'

/** A broker of its own, as plants have it beside the server. */
export interface SharedBroker {
  url: string
  /** Breaks every connection; new ones are taken in. */
  cut(): void
  close(): Promise<void>
}

export async function sharedBroker(): Promise<SharedBroker> {
  const broker = await Aedes.createBroker()
  const sockets = new Set<Socket>()
  const server = createServer((socket) => {
    sockets.add(socket)
    socket.on('close', () => sockets.delete(socket))
    broker.handle(socket)
  })
  await new Promise<void>((resolve) => server.listen(0, '127.0.0.1', resolve))
  const cut = () => {
    for (const socket of sockets) socket.destroy()
  }
  return {
    url: `mqtt://127.0.0.1:${(server.address() as AddressInfo).port}`,
    cut,
    async close() {
      cut()
      await new Promise<void>((resolve) => broker.close(() => resolve()))
      server.close()
    },
  }
}
