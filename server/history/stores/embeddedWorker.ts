import { parentPort, workerData } from 'node:worker_threads'
import { type LaneServer, serveLane } from '../lane/serveLane.ts'
import { FolderInUse, firstLine } from './embedded/database.ts'
import { type Engine, openEngine } from './embedded/engine.ts'
import { createLaneAnswers, type LaneAnswers } from './embedded/laneAnswers.ts'
import type { EngineOptions, Report, Request } from './embedded/protocol.ts'

/**
 * The worker thread of the embedded store: appending and syncing to the disk block a thread, so they have one.
 * It answers every request with one report, and questions of readers over the lane.
 */
const port = parentPort!
const options = workerData as EngineOptions

const report = (message: Report) => port.postMessage(message)
const notice = (sentence: string) => report({ kind: 'notice', sentence })
const sentenceOf = (error: unknown) => firstLine(error instanceof Error ? error.message : String(error))
/** After such an error the engine refuses everything until it is opened anew. */
const isFatal = (sentence: string | undefined) =>
  sentence !== undefined && /fatal|invalidated/i.test(sentence)

interface Parts {
  engine: Engine
  answers: LaneAnswers
  lane: LaneServer | undefined
}

async function serve({ engine, answers, lane }: Parts, request: Request): Promise<void> {
  if (request.kind === 'unstored') return answers.onUnstored(request)
  if (request.kind === 'commit') answers.onCommit(request)
  const sentence = await carryOut(engine, request)
  if (request.kind === 'close' || isFatal(sentence)) await end({ engine, lane })
}

async function end({ engine, lane }: Pick<Parts, 'engine' | 'lane'>): Promise<void> {
  lane?.close()
  await engine.close().catch(() => {})
  port.close()
}

/** Does what is asked and reports; returns what went wrong. */
async function carryOut(engine: Engine, request: Request): Promise<string | undefined> {
  try {
    if (request.kind === 'commit') {
      await engine.commit(request)
      report({ kind: 'committed', commit: request.commit, bytes: engine.bytes() })
    } else if (request.kind === 'maintain') {
      const sentence = await engine.maintain(request.now)
      report({ kind: 'maintained', sentence, bytes: engine.bytes() })
      return sentence
    }
    return undefined
  } catch (error) {
    const sentence = sentenceOf(error)
    if (request.kind === 'commit') report({ kind: 'commitFailed', commit: request.commit, sentence })
    if (request.kind === 'maintain') report({ kind: 'maintained', sentence, bytes: 0 })
    return sentence
  }
}

/** Without a lane nothing can be read, but everything is stored. */
async function openLane(engine: Engine, answers: LaneAnswers): Promise<LaneServer | undefined> {
  try {
    const lane = await serveLane(options.lane, async (question) => {
      try {
        return { reply: await answers.answer(question) }
      } catch (error) {
        const refusal = sentenceOf(error)
        // Not before that was said.
        if (isFatal(refusal)) setImmediate(() => void end({ engine, lane }))
        return { refusal }
      }
    })
    return lane
  } catch (error) {
    notice(`history: no socket can be opened to read it, so curves stay empty: ${sentenceOf(error)}`)
    return undefined
  }
}

try {
  const engine = await openEngine(options, notice)
  const answers = createLaneAnswers(engine, (id, query) => report({ kind: 'unstoredWanted', id, query }))
  // A question that comes from now on asks the watch for its rows, which by then has heard that this thread is ready.
  const lane = await openLane(engine, answers)
  port.on('message', (request: Request) => void serve({ engine, answers, lane }, request))
  report({
    kind: 'ready',
    lastCommit: engine.lastCommit(),
    notices: [...engine.notices],
    bytes: engine.bytes(),
  })
} catch (error) {
  report({ kind: 'refused', sentence: sentenceOf(error), isFinal: error instanceof FolderInUse })
}
