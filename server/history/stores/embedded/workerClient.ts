import { Worker } from 'node:worker_threads'
import { workerUrl } from '../../workerUrl.ts'
import type { Answer, Request, Result } from './messages.ts'

type WithoutId<T> = T extends unknown ? Omit<T, 'id'> : never

const HEAP_LIMIT_MB = 512

/** What the worker answered other than success. */
export class WorkerFault extends Error {
  override name = 'WorkerFault'
  readonly isLocked: boolean

  constructor(message: string, isLocked = false) {
    super(message)
    this.isLocked = isLocked
  }
}

/** One history worker and the questions that wait for its answers. */
export interface WorkerClient {
  /** @throws {WorkerFault} when it refuses or dies. */
  ask<K extends Result['kind']>(request: WithoutId<Request>, kind: K): Promise<Extract<Result, { kind: K }>>
  stop(): Promise<void>
}

interface Waiting {
  resolve(result: Result): void
  reject(error: Error): void
}

/** @param onDeath called once when the worker ends without having been stopped. */
export function startWorker(onDeath: (reason: string) => void): WorkerClient {
  const worker = new Worker(workerUrl(import.meta.url, './worker'), {
    resourceLimits: { maxOldGenerationSizeMb: HEAP_LIMIT_MB },
  })
  const waiting = new Map<number, Waiting>()
  let next = 1
  let isOver = false
  let reason = 'it ended by itself'

  worker.on('message', (answer: Answer) => {
    const one = waiting.get(answer.id)
    waiting.delete(answer.id)
    if (answer.ok) one?.resolve(answer.result)
    else one?.reject(new WorkerFault(answer.error, answer.kind === 'locked'))
  })
  worker.on('error', (error) => {
    reason = error.message
  })
  worker.on('exit', () => {
    for (const one of waiting.values()) one.reject(new WorkerFault(`the history worker died: ${reason}`))
    waiting.clear()
    if (!isOver) onDeath(reason)
    isOver = true
  })

  return {
    ask(request, _kind) {
      if (isOver) return Promise.reject(new WorkerFault('the history worker is not running'))
      const id = next++
      return new Promise((resolve, reject) => {
        waiting.set(id, { resolve: resolve as (result: Result) => void, reject })
        worker.postMessage({ ...request, id } as Request)
      })
    },
    async stop() {
      isOver = true
      await worker.terminate()
    },
  }
}
