import { Worker } from 'node:worker_threads'
import { workerUrl } from '../history/workerUrl.ts'
import type { Tell } from '../log.ts'
import { createTurns } from '../turns.ts'
import type { TrialResult } from '../wire/findings.ts'
import type { QueueHealth } from '../wire/replies.ts'
import type { TraceReply } from '../wire/trace.ts'
import type { ComparedRun, NamedRequest } from './fit/compareSeries.ts'
import type { FitRequest } from './fit/laid.ts'
import type { PackedRun } from './pack/packedRun.ts'
import type { DrawRequest } from './trace/drawTrace.ts'
import type { ReducedRun, ReduceRequest } from './trace/reduceTraces.ts'

/** What the threads do; plain values in and out. `record` is the printable page alone. */
export interface ThreadTasks {
  fit(request: FitRequest): TrialResult
  compare(requests: NamedRequest[]): ComparedRun
  reduce(request: ReduceRequest): ReducedRun
  draw(request: DrawRequest): TraceReply
  pack(run: PackedRun): Uint8Array
  record(run: PackedRun): string
}

type Task = keyof ThreadTasks
type Input<T extends Task> = Parameters<ThreadTasks[T]>[0]
type Output<T extends Task> = ReturnType<ThreadTasks[T]>

export interface ThreadRequest {
  task: Task
  input: Input<Task>
}

/** What came of a task, or why nothing did. */
export type ThreadReport = { output: unknown } | { failed: string }

/** Tasks that give nothing where they could not be done; of the others the answer itself says why not. */
type MayGiveNothing = 'draw' | 'pack' | 'record'

/**
 * Lays curves in a thread that is started with the first and stays, and makes packs and records in another, which goes
 * when nothing waits for it: what draws the plots would hold on to some 100 MB. No task rejects.
 */
export type TrialThread = {
  [T in Task]: (input: Input<T>) => Promise<Output<T> | (T extends MayGiveNothing ? undefined : never)>
} & {
  /** Tasks that wait for a thread. */
  queues(): QueueHealth[]
  close(): Promise<void>
}

/** Tasks that may wait for one thread; more are refused with a sentence. */
const MOST_WAITING = 50

export function createTrialThread(tell: Tell = () => {}): TrialThread {
  const curves = createLane('curves of trials')
  const packs = createLane('packs and records', { goesWhenIdle: true })

  const lost = (what: string) => (failed: string) => {
    tell(`trials: the ${what} could not be made: ${failed}`, 'error')
    return undefined
  }

  return {
    fit: (request) =>
      curves.ask('fit', request, (failed) => ({
        isFitted: false,
        lacking: `The curve could not be laid: ${failed}.`,
      })),
    compare: (requests) =>
      curves.ask('compare', requests, (failed) => ({
        series: [],
        comparison: { isPossible: false, lacking: `The curves could not be laid: ${failed}.` },
      })),
    reduce: (request) =>
      curves.ask('reduce', request, (failed) => ({
        results: {},
        together: { lacking: `The traces could not be reduced: ${failed}.`, amounts: [], remarks: [] },
      })),
    draw: (request) => curves.ask('draw', request, () => undefined),
    pack: (run) => packs.ask('pack', run, lost('pack')),
    record: (run) => packs.ask('record', run, lost('record')),
    queues: () => [curves.queue(), packs.queue()],
    async close() {
      await curves.close()
      await packs.close()
    },
  }
}

/** One worker, which does one task after the other. */
function createLane(name: string, { goesWhenIdle = false } = {}) {
  const turns = createTurns({ name, atOnce: 1, waiting: MOST_WAITING, full: 'too many tasks are waiting' })
  let worker: Worker | undefined
  let isClosed = false
  /** Takes the answer to the task under way. */
  let settle = (_: ThreadReport): void => {}

  function start(): Worker {
    const started = new Worker(workerUrl(import.meta.url, './trialWorker'), { name })
    // It holds nothing that has to be finished: it goes with the process.
    started.unref()
    started.on('message', (report: ThreadReport) => settle(report))
    let reason = 'it was ended'
    started.on('error', (error) => {
      reason = error instanceof Error ? error.message : String(error)
    })
    started.on('exit', () => {
      if (worker !== started) return
      worker = undefined
      settle({ failed: `the thread "${name}" ended: ${reason}` })
    })
    return started
  }

  async function post(request: ThreadRequest): Promise<ThreadReport> {
    if (isClosed) return { failed: `the thread "${name}" was ended` }
    worker ??= start()
    worker.postMessage(request)
    const report = await new Promise<ThreadReport>((resolve) => {
      settle = resolve
    })
    if (goesWhenIdle && turns.queue().length === 0) {
      void worker?.terminate()
      worker = undefined
    }
    return report
  }

  return {
    /** @param instead What stands in place of an answer that could not be given. */
    async ask<T extends Task, Instead>(
      task: T,
      input: Input<T>,
      instead: (failed: string) => Instead,
    ): Promise<Output<T> | Instead> {
      const report = await turns
        .take(() => post({ task, input }))
        .catch(({ message }: Error) => ({ failed: message }))
      // The worker answers a task with the output of that task.
      return 'output' in report ? (report.output as Output<T>) : instead(report.failed)
    },
    queue: turns.queue,
    async close() {
      isClosed = true
      await worker?.terminate()
    },
  }
}
