import { Worker } from 'node:worker_threads'
import { workerUrl } from '../history/workerUrl.ts'
import type { Comparison } from '../wire/findings.ts'
import type { QueueHealth } from '../wire/replies.ts'
import type { SeriesResult, TrialResult } from '../wire/trial.ts'
import type { NamedRequest } from './fit/compareSeries.ts'
import type { FitRequest } from './fit/fitCurve.ts'
import type { PackedRun } from './pack/packedRun.ts'

export interface ThreadRequest {
  id: number
  task:
    | { kind: 'fit'; request: FitRequest }
    | { kind: 'compare'; requests: NamedRequest[] }
    | { kind: 'pack'; run: PackedRun }
}

export type ThreadReport =
  | { id: number; kind: 'fitted'; result: TrialResult }
  | { id: number; kind: 'compared'; compared: ComparedRun }
  | { id: number; kind: 'packed'; zip: Uint8Array }
  | { id: number; kind: 'failed'; sentence: string }

/** A curve for each series, and the first against the second. */
export interface ComparedRun {
  series: SeriesResult[]
  comparison: Comparison | null
}

/** Lays curves and makes packs in a thread of its own, which is started with the first and stays. */
export interface TrialThread {
  /** Never rejects: what went wrong is a sentence in the result. */
  fit(request: FitRequest): Promise<TrialResult>
  compare(requests: NamedRequest[]): Promise<ComparedRun>
  /** Undefined when it could not be made. */
  pack(run: PackedRun): Promise<Uint8Array | undefined>
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
    async compare(requests) {
      const report = await ask({ kind: 'compare', requests })
      if (report.kind === 'compared') return report.compared
      const sentence = report.kind === 'failed' ? report.sentence : 'there is no answer'
      const lacking = `The curves could not be laid: ${sentence}.`
      return { series: [], comparison: { isPossible: false, lacking } }
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
