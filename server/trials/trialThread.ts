import { Worker } from 'node:worker_threads'
import { workerUrl } from '../history/workerUrl.ts'
import type { TrialResult } from '../wire/findings.ts'
import type { QueueHealth } from '../wire/replies.ts'
import type { TraceReply } from '../wire/trace.ts'
import type { ComparedRun, NamedRequest } from './fit/compareSeries.ts'
import type { FitRequest } from './fit/layCurve.ts'
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
  id: number
  task: Task
  input: Input<Task>
}

/** What came of a task, or why nothing did. */
type Answer = { output: unknown } | { failed: string }
export type ThreadReport = { id: number } & Answer

/** Tasks that give nothing where they could not be done; of the others the answer itself says why not. */
type MayGiveNothing = 'draw' | 'pack' | 'record'

/**
 * Lays curves in a thread that is started with the first and stays, and makes packs and records in another, which goes
 * when nothing waits for it: what draws the plots would hold on to some 100 MB. No task rejects.
 */
export type TrialThread = {
  [T in Task]: (input: Input<T>) => Promise<Output<T> | (T extends MayGiveNothing ? undefined : never)>
} & {
  /** Tasks that wait for the thread. */
  queue(): QueueHealth
  close(): Promise<void>
}

/** Tasks that may wait for one thread; more are refused with a sentence. */
const MOST_WAITING = 50

export function createTrialThread(): TrialThread {
  const curves = createLane('trials')
  const packs = createLane('records', { goesWhenIdle: true })

  const lost = (what: string) => (failed: string) => {
    console.error(`trials: the ${what} could not be made: ${failed}`)
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

/** One worker and what waits for it. */
function createLane(name: string, { goesWhenIdle = false } = {}) {
  let worker: Worker | undefined
  let next = 0
  let dropped = 0
  const waiting = new Map<number, (answer: Answer) => void>()

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
      const failed = `the thread "${name}" ended: ${reason}`
      for (const resolve of waiting.values()) resolve({ failed })
      waiting.clear()
    })
    return started
  }

  return {
    /** @param instead What stands in place of an answer that could not be given. */
    async ask<T extends Task, Instead>(
      task: T,
      input: Input<T>,
      instead: (failed: string) => Instead,
    ): Promise<Output<T> | Instead> {
      if (waiting.size >= MOST_WAITING) {
        dropped++
        return instead('too many tasks are waiting')
      }
      const id = next++
      worker ??= start()
      worker.postMessage({ id, task, input } satisfies ThreadRequest)
      const answer = await new Promise<Answer>((resolve) => waiting.set(id, resolve))
      // The worker answers a task with the output of that task.
      return 'output' in answer ? (answer.output as Output<T>) : instead(answer.failed)
    },
    length: () => waiting.size,
    dropped: () => dropped,
    async close() {
      await worker?.terminate()
    },
  }
}
