import { parentPort, workerData } from 'node:worker_threads'
import { FolderInUse, firstLine } from './embedded/database.ts'
import { type Engine, openEngine } from './embedded/engine.ts'
import type { EngineOptions, Report, Request } from './embedded/protocol.ts'

/**
 * The worker thread of the embedded store: appending and syncing to the disk block a thread, so they have one.
 * It answers every request with one report.
 */
const port = parentPort!
const options = workerData as EngineOptions

const report = (message: Report, transfer: ArrayBuffer[] = []) => port.postMessage(message, transfer)
const sentenceOf = (error: unknown) => firstLine(error instanceof Error ? error.message : String(error))
/** After such an error the engine refuses everything until it is opened anew. */
const isFatal = (sentence: string) => /fatal|invalidated/i.test(sentence)

async function serve(engine: Engine, request: Request): Promise<void> {
  const sentence = await answer(engine, request)
  if (request.kind !== 'close' && !(sentence && isFatal(sentence))) return
  await engine.close().catch(() => {})
  if (request.kind === 'close') report({ kind: 'closed' })
  port.close()
}

/** Does what is asked and reports; returns what went wrong. */
async function answer(engine: Engine, request: Request): Promise<string | undefined> {
  try {
    if (request.kind === 'commit') {
      await engine.commit(request)
      report({ kind: 'committed', commit: request.commit, bytes: engine.bytes() })
    } else if (request.kind === 'query') {
      const reply = await engine.query(request.query, request.now)
      const columns = reply.envelopes.flatMap(({ min, max, sum, count }) => [min, max, sum, count])
      const buffers = columns.map((column) => column.buffer as ArrayBuffer)
      report({ kind: 'answer', id: request.id, answer: reply }, buffers)
    } else if (request.kind === 'samples') {
      const reply = await engine.samples(request.query)
      const { signal, at, value, quality } = reply
      const buffers = [signal, at, value, quality].map((column) => column.buffer as ArrayBuffer)
      report({ kind: 'answer', id: request.id, answer: reply }, buffers)
    } else if (request.kind === 'maintain') {
      const sentence = await engine.maintain(request.now)
      report({ kind: 'maintained', sentence, bytes: engine.bytes() })
      return sentence
    }
    return undefined
  } catch (error) {
    const sentence = sentenceOf(error)
    if (request.kind === 'commit') report({ kind: 'commitFailed', commit: request.commit, sentence })
    if (request.kind === 'query' || request.kind === 'samples')
      report({ kind: 'queryFailed', id: request.id, sentence })
    if (request.kind === 'maintain') report({ kind: 'maintained', sentence, bytes: 0 })
    return sentence
  }
}

try {
  const engine = await openEngine(options, (sentence) => report({ kind: 'notice', sentence }))
  port.on('message', (request: Request) => void serve(engine, request))
  report({
    kind: 'ready',
    lastCommit: engine.lastCommit(),
    notices: [...engine.notices],
    bytes: engine.bytes(),
  })
} catch (error) {
  report({ kind: 'refused', sentence: sentenceOf(error), isFinal: error instanceof FolderInUse })
}
