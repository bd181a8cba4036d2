import { parentPort } from 'node:worker_threads'
import { compareSeries } from './fit/compareSeries.ts'
import { fitCurve } from './fit/fitCurve.ts'
import { drawTrace } from './trace/drawTrace.ts'
import { reduceTraces } from './trace/reduceTraces.ts'
import type { ThreadReport, ThreadRequest, ThreadTasks } from './trialThread.ts'

/** The thread in which curves are laid and packs are made: a thousand refits must not hold up the readings. */
const port = parentPort!

/** Loaded with the first pack: it brings fonts and a drawing program that curves do not need. */
const packing = () => import('./pack/packRun.ts')

const tasks: {
  [T in keyof ThreadTasks]: (
    ...input: Parameters<ThreadTasks[T]>
  ) => ReturnType<ThreadTasks[T]> | Promise<ReturnType<ThreadTasks[T]>>
} = {
  fit: fitCurve,
  compare: compareSeries,
  reduce: reduceTraces,
  draw: drawTrace,
  pack: async (run) => (await packing()).packRun(run),
  record: async (run) => (await packing()).packRecord(run),
}

port.on('message', (request: ThreadRequest) => {
  void answer(request).then((report) => port.postMessage(report))
})

async function answer({ task, input }: ThreadRequest): Promise<ThreadReport> {
  try {
    const run = tasks[task] as (given: typeof input) => unknown
    return { output: await run(input) }
  } catch (error) {
    return { failed: error instanceof Error ? error.message : String(error) }
  }
}
