import { timingSafeEqual } from 'node:crypto'
import { chmodSync, rmSync } from 'node:fs'
import { createServer, type Server, type Socket } from 'node:net'
import type { LaneAddress } from './address.ts'
import { readFrames, writeFrame } from './frames.ts'
import type { LaneAnswer, LaneQuestion } from './laneReader.ts'
import { pack } from './pack.ts'

/** The end of the lane at the thread that reads history. */
export interface LaneServer {
  close(): void
}

/** One page side, and the one before it while that has not gone yet. */
const MOST_CONNECTIONS = 4
/** The next question may come before this end has heard that its answer was taken. */
const MOST_ASKED = 2
const LARGEST_QUESTION = 1_000_000
/** A connection has this long to show the key [ms]. */
const KEY_LIMIT_MS = 5000

/**
 * Listens on the first of the paths that can be had, for the user of this process alone. Each connection shows the key, then asks
 * one question at a time; one that does anything else is ended. Of all connections one question is answered at
 * a time, and the next one when that answer was taken: its columns may then be used again.
 *
 * @param answer Where it rejects, the connection is ended.
 * @throws what the last of the paths was refused for.
 */
export async function serveLane(
  { paths, key }: LaneAddress,
  answer: (question: LaneQuestion) => Promise<LaneAnswer>,
): Promise<LaneServer> {
  const sockets = new Set<Socket>()
  /** One question after the other, each until its answer was taken; one whose connection has gone by then is passed over. */
  let before: Promise<unknown> = Promise.resolve()
  const expected = Buffer.from(key, 'hex')

  function welcome(socket: Socket): void {
    let isKnown = false
    let asked = 0
    sockets.add(socket)
    socket.on('close', () => sockets.delete(socket))
    // The end of the connection tells enough.
    socket.on('error', () => {})
    socket.setTimeout(KEY_LIMIT_MS, () => socket.destroy())
    readFrames(socket, LARGEST_QUESTION, (bytes) => {
      if (isKnown) return asked >= MOST_ASKED ? void socket.destroy() : void reply(bytes)
      isKnown = bytes.length === expected.length && timingSafeEqual(bytes, expected)
      if (isKnown) socket.setTimeout(0)
      else socket.destroy()
    })

    async function reply(bytes: Buffer): Promise<void> {
      asked++
      const turn = before.then(async () => {
        if (!socket.destroyed) await writeFrame(socket, pack(await answer(questionIn(bytes))))
      })
      before = turn.catch(() => {})
      try {
        await turn
      } catch {
        socket.destroy()
      }
      asked--
    }
  }

  const server = createServer(welcome)
  server.maxConnections = MOST_CONNECTIONS
  await listenOnFirst(server, paths)
  return {
    close() {
      server.close()
      for (const socket of sockets) socket.destroy()
    },
  }
}

function questionIn(bytes: Buffer): LaneQuestion {
  return JSON.parse(bytes.toString()) as LaneQuestion
}

async function listenOnFirst(server: Server, [path, ...others]: readonly string[]): Promise<void> {
  if (path === undefined) throw new Error('no name for a socket is short enough')
  try {
    await listen(server, path)
  } catch (error) {
    if (others.length === 0) throw error
    await listenOnFirst(server, others)
  }
}

async function listen(server: Server, path: string): Promise<void> {
  const isFile = process.platform !== 'win32'
  // What a process that was killed left behind; who comes here owns the folder.
  if (isFile) rmSync(path, { force: true })
  await new Promise<void>((resolve, reject) => {
    server.once('error', reject)
    server.listen(path, () => {
      server.off('error', reject)
      resolve()
    })
  })
  if (isFile) chmodSync(path, 0o600)
}
