import { parentPort } from 'node:worker_threads'
import { compareSeries } from './fit/compareSeries.ts'
import { fitCurve } from './fit/fitCurve.ts'
import { drawTrace } from './trace/drawTrace.ts'
import { reduceTraces } from './trace/reduceTraces.ts'
import type { ThreadReport, ThreadRequest } from './trialThread.ts'

/** The thread in which curves are laid and packs are made: a thousand refits must not hold up the readings. */
const port = parentPort!

port.on('message', (request: ThreadRequest) => {
  void answer(request).then((report) => port.postMessage(report))
})

async function answer({ id, task }: ThreadRequest): Promise<ThreadReport> {
  try {
    if (task.kind === 'fit') return { id, kind: 'fitted', result: fitCurve(task.request) }
    if (task.kind === 'compare') return { id, kind: 'compared', compared: compareSeries(task.requests) }
    if (task.kind === 'reduce') return { id, kind: 'reduced', run: reduceTraces(task.request) }
    if (task.kind === 'draw') return { id, kind: 'drawn', trace: drawTrace(task.request) }
    // Loaded with the first: it brings fonts and a drawing program that curves do not need.
    const { packRecord, packRun } = await import('./pack/packRun.ts')
    if (task.kind === 'record') return { id, kind: 'recorded', html: packRecord(task.run) }
    return { id, kind: 'packed', zip: await packRun(task.run) }
  } catch (error) {
    return { id, kind: 'failed', sentence: error instanceof Error ? error.message : String(error) }
  }
}
