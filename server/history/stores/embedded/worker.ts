import { parentPort } from 'node:worker_threads'
import { type AppendContext, appendRows, openCatalogue, resumeSession } from './appendRows.ts'
import { HistoryLocked, openDatabase } from './database.ts'
import { findRange } from './findRange.ts'
import type { Answer, Request, Result, Retention } from './messages.ts'
import { bytesOnDisk, sealDays } from './sealDays.ts'

/** The one thread that touches the history file. Appends and sealing go one after the other; queries beside them. */
interface Open extends AppendContext {
  retention: Retention
}

const QUERY_LIMIT_MS = 15_000

const port = parentPort
if (!port) throw new Error('history worker: must be started as a worker thread')
let store: Open | undefined
let writing: Promise<unknown> = Promise.resolve()

port.on('message', (request: Request) => {
  if (request.kind === 'query') void answer(request, () => query(request))
  else writing = writing.then(() => answer(request, () => write(request)))
})

async function answer({ id }: Request, work: () => Promise<Result>): Promise<void> {
  let reply: Answer
  try {
    reply = { id, ok: true, result: await work() }
  } catch (error) {
    const message = error instanceof Error ? error.message.split('\n')[0]! : String(error)
    reply = { id, ok: false, error: message, kind: error instanceof HistoryLocked ? 'locked' : 'bad' }
  }
  port!.postMessage(reply, buffersOf(reply))
}

async function write(request: Exclude<Request, { kind: 'query' }>): Promise<Result> {
  switch (request.kind) {
    case 'open':
      return open(request)
    case 'append':
      await appendRows(opened(), request)
      return { kind: 'appended', bytes: bytesOnDisk(opened().database) }
    case 'seal': {
      const { database, retention } = opened()
      const days = await sealDays(database, request.now, retention)
      return { kind: 'sealed', days, bytes: bytesOnDisk(database) }
    }
    case 'close':
      store?.database.close()
      store = undefined
      return { kind: 'closed' }
  }
}

/** Also used to begin anew after a failure: what was open is closed first. */
async function open({ folder, retention, session }: Extract<Request, { kind: 'open' }>): Promise<Result> {
  store?.database.close()
  store = undefined
  const database = await openDatabase(folder)
  const catalogue = await openCatalogue(database)
  const lastBatch = await resumeSession(database, session)
  store = { database, catalogue, session, retention }
  const note = database.note === undefined ? {} : { note: database.note }
  return { kind: 'opened', lastBatch, bytes: bytesOnDisk(database), ...note }
}

async function query(request: Extract<Request, { kind: 'query' }>): Promise<Result> {
  const { database, catalogue } = opened()
  const reader = await database.connect()
  const timer = setTimeout(() => reader.interrupt(), QUERY_LIMIT_MS)
  try {
    return { kind: 'found', ...(await findRange({ database, catalogue, reader }, request)) }
  } finally {
    clearTimeout(timer)
    reader.closeSync()
  }
}

function opened(): Open {
  if (!store) throw new Error('the history file is not open')
  return store
}

function buffersOf(reply: Answer): ArrayBuffer[] {
  if (!reply.ok || reply.result.kind !== 'found') return []
  return Object.values(reply.result.cells).map(
    (column: Int32Array | Float64Array | Uint32Array) => column.buffer as ArrayBuffer,
  )
}
