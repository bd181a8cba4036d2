import { parentPort } from 'node:worker_threads'
import { fitCurve } from './fit/fitCurve.ts'
import { packRun } from './pack/packRun.ts'
import { drawTrace } from './trace/drawTrace.ts'
import { reduceTraces } from './trace/reduceTraces.ts'
import type { ThreadReport, ThreadRequest } from './trialThread.ts'

/** The thread in which curves are laid and packs are made: a thousand refits must not hold up the readings. */
const port = parentPort!

port.on('message', (request: ThreadRequest) => {
  port.postMessage(answer(request))
})

function answer({ id, task }: ThreadRequest): ThreadReport {
  try {
    if (task.kind === 'fit') return { id, kind: 'fitted', result: fitCurve(task.request) }
    if (task.kind === 'reduce') return { id, kind: 'reduced', run: reduceTraces(task.request) }
    if (task.kind === 'draw') return { id, kind: 'drawn', trace: drawTrace(task.request) }
    return { id, kind: 'packed', zip: packRun(task.run) }
  } catch (error) {
    return { id, kind: 'failed', sentence: error instanceof Error ? error.message : String(error) }
  }
}
