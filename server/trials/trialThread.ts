import { Worker } from 'node:worker_threads'
import { workerUrl } from '../history/workerUrl.ts'
import type { QueueHealth } from '../wire/replies.ts'
import type { TraceReply } from '../wire/trace.ts'
import type { TrialResult } from '../wire/trial.ts'
import type { FitRequest } from './fit/fitCurve.ts'
import type { PackedRun } from './pack/packedRun.ts'
import type { DrawRequest } from './trace/drawTrace.ts'
import type { ReducedRun, ReduceRequest } from './trace/reduceTraces.ts'

export interface ThreadRequest {
  id: number
  task:
    | { kind: 'fit'; request: FitRequest }
    | { kind: 'pack'; run: PackedRun }
    | { kind: 'reduce'; request: ReduceRequest }
    | { kind: 'draw'; request: DrawRequest }
}

export type ThreadReport =
  | { id: number; kind: 'fitted'; result: TrialResult }
  | { id: number; kind: 'packed'; zip: Uint8Array }
  | { id: number; kind: 'reduced'; run: ReducedRun }
  | { id: number; kind: 'drawn'; trace: TraceReply }
  | { id: number; kind: 'failed'; sentence: string }

/** Lays curves and makes packs in a thread of its own, which is started with the first and stays. */
export interface TrialThread {
  /** Never rejects: what went wrong is a sentence in the result. */
  fit(request: FitRequest): Promise<TrialResult>
  /** Undefined when it could not be made. */
  pack(run: PackedRun): Promise<Uint8Array | undefined>
  /** What traces say; what went wrong is a sentence in it. */
  reduce(request: ReduceRequest): Promise<ReducedRun>
  /** Readings of a trace to draw; undefined when they could not be read. */
  draw(request: DrawRequest): Promise<TraceReply | undefined>
  /** Tasks that wait for the thread. */
  queue(): QueueHealth
  close(): Promise<void>
}

/** Tasks that may wait; more are refused with a sentence. */
const MOST_WAITING = 50

export function createTrialThread(): TrialThread {
  let worker: Worker | undefined
  let next = 0
  let dropped = 0
  const waiting = new Map<number, (report: ThreadReport) => void>()

  function start(): Worker {
    const started = new Worker(workerUrl(import.meta.url, './trialWorker'), { name: 'trials' })
    // It holds nothing that has to be finished: it goes with the process.
    started.unref()
    started.on('message', (report: ThreadReport) => {
      waiting.get(report.id)?.(report)
      waiting.delete(report.id)
    })
    let reason = 'it was ended'
    started.on('error', (error) => {
      reason = error instanceof Error ? error.message : String(error)
    })
    started.on('exit', () => {
      worker = undefined
      const sentence = `the thread for curves ended: ${reason}`
      for (const [id, resolve] of waiting) resolve({ id, kind: 'failed', sentence })
      waiting.clear()
    })
    return started
  }

  function ask(task: ThreadRequest['task']): Promise<ThreadReport> {
    const id = next++
    if (waiting.size >= MOST_WAITING) {
      dropped++
      return Promise.resolve({ id, kind: 'failed', sentence: 'too many curves are waiting' })
    }
    worker ??= start()
    worker.postMessage({ id, task } satisfies ThreadRequest)
    return new Promise((resolve) => waiting.set(id, resolve))
  }

  return {
    async fit(request) {
      const report = await ask({ kind: 'fit', request })
      if (report.kind === 'fitted') return report.result
      const sentence = report.kind === 'failed' ? report.sentence : 'there is no answer'
      return { isFitted: false, lacking: `The curve could not be laid: ${sentence}.` }
    },
    async pack(run) {
      const report = await ask({ kind: 'pack', run })
      if (report.kind === 'packed') return report.zip
      console.error(
        'trials: the pack could not be made:',
        report.kind === 'failed' ? report.sentence : report.kind,
      )
      return undefined
    },
    async reduce(request) {
      const report = await ask({ kind: 'reduce', request })
      if (report.kind === 'reduced') return report.run
      const sentence = report.kind === 'failed' ? report.sentence : 'there is no answer'
      const lacking = `The traces could not be reduced: ${sentence}.`
      return { results: {}, together: { lacking, amounts: [], remarks: [] } }
    },
    async draw(request) {
      const report = await ask({ kind: 'draw', request })
      return report.kind === 'drawn' ? report.trace : undefined
    },
    queue: () => ({
      name: 'curves of trials',
      length: waiting.size,
      limit: MOST_WAITING,
      policy: 'refused with a sentence when full',
      dropped,
    }),
    async close() {
      await worker?.terminate()
    },
  }
}
