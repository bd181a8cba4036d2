import { connect, type Socket } from 'node:net'
import type { Clock } from '../../clock.ts'
import { createTurns } from '../../turns.ts'
import type { QueueHealth } from '../../wire/replies.ts'
import { divideRange } from '../grid.ts'
import { checkSamplesQuery } from '../samples.ts'
import type { HistoryReader, RangeQuery, RangeReply, SamplesQuery, SamplesReply } from '../store.ts'
import type { LaneAddress } from './address.ts'
import { readFrames, writeFrame } from './frames.ts'
import { unpack } from './pack.ts'

/** What goes over the lane, as JSON; the answer comes packed, with its columns as they are. */
export type LaneQuestion = { kind: 'range'; query: RangeQuery } | { kind: 'samples'; query: SamplesQuery }
export type LaneAnswer = { reply: RangeReply | SamplesReply } | { refusal: string }

/** History read beside the process that holds it, without passing through its main thread. */
export interface LaneReader extends HistoryReader {
  queue(): QueueHealth
  close(): void
}

/** Of all columns of the largest answer: 2 M cells of 28 bytes. */
const LARGEST_ANSWER = 64_000_000
/** The store has a time limit of its own for each question; this is for one that does not answer at all [ms]. */
const PATIENCE_MS = 60_000
const WAITING = 32
const AWAY = 'history: the store cannot be read at present'
const ENDED = 'history: what reads the store ended before it had answered; ask again'

interface Connection {
  ask(question: LaneQuestion): Promise<LaneAnswer>
  isOpen(): boolean
  close(): void
}

/** Connects when it is first asked something, and anew when the other end was started again. */
export function createLaneReader(address: LaneAddress, clock: Clock): LaneReader {
  const turns = createTurns({
    name: 'queries of history',
    atOnce: 1,
    waiting: WAITING,
    full: 'Too many history queries are waiting. Try again in two seconds.',
  })
  let connection: Connection | undefined

  function ask<Reply>(question: LaneQuestion): Promise<Reply> {
    return turns.take(async () => {
      if (!connection?.isOpen()) connection = await openFirst(address.paths, address.key)
      const used = connection
      const cancel = clock.after(PATIENCE_MS, used.close)
      try {
        const answer = await used.ask(question)
        if ('refusal' in answer) throw new Error(`history: ${answer.refusal}`)
        return answer.reply as Reply
      } finally {
        cancel()
      }
    })
  }

  return {
    async query(query) {
      // only to check it, so that a wrong query throws where it was made
      divideRange(query)
      return ask({ kind: 'range', query })
    },
    async samples(query) {
      checkSamplesQuery(query)
      return ask({ kind: 'samples', query })
    },
    queue: turns.queue,
    close: () => connection?.close(),
  }
}

async function openFirst(paths: readonly string[], key: string): Promise<Connection> {
  for (const path of paths) {
    const socket = await connectTo(path)
    if (!socket) continue
    void writeFrame(socket, [Buffer.from(key, 'hex')])
    return connectionOver(socket)
  }
  throw new Error(AWAY)
}

/** @returns undefined where nobody listens. */
function connectTo(path: string): Promise<Socket | undefined> {
  return new Promise((resolve) => {
    const socket = connect(path, () => resolve(socket))
    socket.on('error', () => resolve(undefined))
  })
}

function connectionOver(socket: Socket): Connection {
  let settle: ((answer: LaneAnswer | undefined) => void) | undefined
  readFrames(socket, LARGEST_ANSWER, (bytes) => settle?.(unpack(bytes) as LaneAnswer))
  socket.on('close', () => settle?.(undefined))
  return {
    ask: (question) =>
      new Promise((resolve, reject) => {
        settle = (answer) => (answer ? resolve(answer) : reject(new Error(ENDED)))
        if (socket.destroyed) return settle(undefined)
        void writeFrame(socket, [Buffer.from(JSON.stringify(question))])
      }),
    isOpen: () => !socket.destroyed && !socket.readableEnded,
    close: () => void socket.destroy(),
  }
}
