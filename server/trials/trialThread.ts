import { Worker } from 'node:worker_threads'
import { workerUrl } from '../history/workerUrl.ts'
import type { Comparison, SeriesResult, TrialResult } from '../wire/findings.ts'
import type { QueueHealth } from '../wire/replies.ts'
import type { TraceReply } from '../wire/trace.ts'
import type { NamedRequest } from './fit/compareSeries.ts'
import type { FitRequest } from './fit/fitCurve.ts'
import type { PackedRun } from './pack/packedRun.ts'
import type { DrawRequest } from './trace/drawTrace.ts'
import type { ReducedRun, ReduceRequest } from './trace/reduceTraces.ts'

export interface ThreadRequest {
  id: number
  task:
    | { kind: 'fit'; request: FitRequest }
    | { kind: 'compare'; requests: NamedRequest[] }
    | { kind: 'pack' | 'record'; run: PackedRun }
    | { kind: 'reduce'; request: ReduceRequest }
    | { kind: 'draw'; request: DrawRequest }
}

export type ThreadReport =
  | { id: number; kind: 'fitted'; result: TrialResult }
  | { id: number; kind: 'compared'; compared: ComparedRun }
  | { id: number; kind: 'packed'; zip: Uint8Array }
  | { id: number; kind: 'recorded'; html: string }
  | { id: number; kind: 'reduced'; run: ReducedRun }
  | { id: number; kind: 'drawn'; trace: TraceReply }
  | { id: number; kind: 'failed'; sentence: string }

/** A curve for each series, and the first against the second. */
export interface ComparedRun {
  series: SeriesResult[]
  comparison: Comparison | null
}

/**
 * Lays curves in a thread that is started with the first and stays, and makes packs and records in another, which goes
 * when nothing waits for it: what draws the plots would hold on to some 100 MB.
 */
export interface TrialThread {
  /** Never rejects: what went wrong is a sentence in the result. */
  fit(request: FitRequest): Promise<TrialResult>
  compare(requests: NamedRequest[]): Promise<ComparedRun>
  /** Undefined when it could not be made. */
  pack(run: PackedRun): Promise<Uint8Array | undefined>
  /** The printable page alone; undefined when it could not be made. */
  record(run: PackedRun): Promise<string | undefined>
  /** What traces say; what went wrong is a sentence in it. */
  reduce(request: ReduceRequest): Promise<ReducedRun>
  /** Readings of a trace to draw; undefined when they could not be read. */
  draw(request: DrawRequest): Promise<TraceReply | undefined>
  /** Tasks that wait for the thread. */
  queue(): QueueHealth
  close(): Promise<void>
}

/** Tasks that may wait for one thread; more are refused with a sentence. */
const MOST_WAITING = 50

export function createTrialThread(): TrialThread {
  const curves = createLane('trials')
  const packs = createLane('records', { goesWhenIdle: true })

  return {
    async fit(request) {
      const report = await curves.ask({ kind: 'fit', request })
      if (report.kind === 'fitted') return report.result
      const sentence = report.kind === 'failed' ? report.sentence : 'there is no answer'
      return { isFitted: false, lacking: `The curve could not be laid: ${sentence}.` }
    },
    async compare(requests) {
      const report = await curves.ask({ kind: 'compare', requests })
      if (report.kind === 'compared') return report.compared
      const sentence = report.kind === 'failed' ? report.sentence : 'there is no answer'
      const lacking = `The curves could not be laid: ${sentence}.`
      return { series: [], comparison: { isPossible: false, lacking } }
    },
    async pack(run) {
      const report = await packs.ask({ kind: 'pack', run })
      if (report.kind === 'packed') return report.zip
      console.error(
        'trials: the pack could not be made:',
        report.kind === 'failed' ? report.sentence : report.kind,
      )
      return undefined
    },
    async record(run) {
      const report = await packs.ask({ kind: 'record', run })
      if (report.kind === 'recorded') return report.html
      console.error(
        'trials: the record could not be made:',
        report.kind === 'failed' ? report.sentence : report.kind,
      )
      return undefined
    },
    async reduce(request) {
      const report = await curves.ask({ kind: 'reduce', request })
      if (report.kind === 'reduced') return report.run
      const sentence = report.kind === 'failed' ? report.sentence : 'there is no answer'
      const lacking = `The traces could not be reduced: ${sentence}.`
      return { results: {}, together: { lacking, amounts: [], remarks: [] } }
    },
    async draw(request) {
      const report = await curves.ask({ kind: 'draw', request })
      return report.kind === 'drawn' ? report.trace : undefined
    },
    queue: () => ({
      name: 'curves and packs of trials',
      length: curves.length() + packs.length(),
      limit: 2 * MOST_WAITING,
      policy: 'refused with a sentence when full',
      dropped: curves.dropped() + packs.dropped(),
    }),
    async close() {
      await curves.close()
      await packs.close()
    },
  }
}

interface Lane {
  ask(task: ThreadRequest['task']): Promise<ThreadReport>
  length(): number
  dropped(): number
  close(): Promise<void>
}

/** One worker and what waits for it. */
function createLane(name: string, { goesWhenIdle = false } = {}): Lane {
  let worker: Worker | undefined
  let next = 0
  let dropped = 0
  const waiting = new Map<number, (report: ThreadReport) => void>()

  function start(): Worker {
    const started = new Worker(workerUrl(import.meta.url, './trialWorker'), { name })
    // It holds nothing that has to be finished: it goes with the process.
    started.unref()
    started.on('message', (report: ThreadReport) => {
      waiting.get(report.id)?.(report)
      waiting.delete(report.id)
      if (goesWhenIdle && waiting.size === 0 && worker === started) {
        worker = undefined
        void started.terminate()
      }
    })
    let reason = 'it was ended'
    started.on('error', (error) => {
      reason = error instanceof Error ? error.message : String(error)
    })
    started.on('exit', () => {
      // One that was let go has answered everything; what waits now waits for the next.
      if (worker !== started) return
      worker = undefined
      const sentence = `the thread "${name}" ended: ${reason}`
      for (const [id, resolve] of waiting) resolve({ id, kind: 'failed', sentence })
      waiting.clear()
    })
    return started
  }

  return {
    ask(task) {
      const id = next++
      if (waiting.size >= MOST_WAITING) {
        dropped++
        return Promise.resolve({ id, kind: 'failed', sentence: 'too many tasks are waiting' })
      }
      worker ??= start()
      worker.postMessage({ id, task } satisfies ThreadRequest)
      return new Promise((resolve) => waiting.set(id, resolve))
    },
    length: () => waiting.size,
    dropped: () => dropped,
    async close() {
      await worker?.terminate()
    },
  }
}
