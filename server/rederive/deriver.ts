import { Worker } from 'node:worker_threads'
import type { LaneAddress } from '../history/lane/address.ts'
import type { Rewrite } from '../history/store.ts'
import { workerUrl } from '../history/workerUrl.ts'
import type { Derived, DeriveTask } from './deriveSpan.ts'

/** Derives spans anew, one at a time, away from the thread that watches. */
export interface Deriver {
  /** @param write Told of the figures, piece by piece; the next one comes when it has resolved. Rejects as it does. */
  derive(task: DeriveTask, write: (change: Rewrite) => Promise<void>): Promise<Derived>
  close(): Promise<void>
}

export type ToDeriver = { task: DeriveTask } | { written: true } | { refused: string }
export type FromDeriver = { change: Rewrite } | { derived: Derived } | { failed: string }

/** A thread that is started with the first task and ends when it is done: late readings are rare. */
export function createDeriver(lane: LaneAddress): Deriver {
  let worker: Worker | undefined

  async function derive(task: DeriveTask, write: (change: Rewrite) => Promise<void>): Promise<Derived> {
    const started = new Worker(workerUrl(import.meta.url, './deriveWorker'), {
      name: 'rederive',
      workerData: lane,
    })
    worker = started
    const post = (message: ToDeriver) => started.postMessage(message)
    try {
      return await new Promise<Derived>((resolve, reject) => {
        started.on('error', reject)
        started.on('exit', () => reject(new Error('the thread that derives anew ended')))
        started.on('message', (message: FromDeriver) => {
          if ('derived' in message) resolve(message.derived)
          else if ('failed' in message) reject(new Error(message.failed))
          else
            write(message.change).then(
              () => post({ written: true }),
              (error: Error) => post({ refused: error.message }),
            )
        })
        post({ task })
      })
    } finally {
      worker = undefined
      void started.terminate()
    }
  }

  return {
    derive,
    async close() {
      await worker?.terminate()
    },
  }
}
