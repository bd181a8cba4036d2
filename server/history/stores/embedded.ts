import type { Clock } from '../../clock.ts'
import { addShare, createEnvelope, replyFrom } from '../envelope.ts'
import {
  HistoryBusy,
  type HistoryStore,
  type RangeQuery,
  type RangeReply,
  type StoreHealth,
} from '../store.ts'
import { createBatchQueue } from './embedded/batchQueue.ts'
import type { Result, Retention } from './embedded/messages.ts'
import { startWorker, type WorkerClient, WorkerFault } from './embedded/workerClient.ts'

export interface EmbeddedOptions {
  folder: string
  clock: Clock
  retention: Retention
  /** Rows that may wait while the disk refuses them. @default 1_000_000 */
  pendingLimit?: number
}

const MOST_RUNNING = 2
const MOST_WAITING = 32
/** Pause before trying again after a failure; doubles up to the longest. */
const FIRST_PAUSE_MS = 1000
const LONGEST_PAUSE_MS = 30_000
const SEAL_PERIOD_MS = 600_000
/** A query waits this long for rows that are just being stored. */
const SETTLE_LIMIT_MS = 2000

/** History in DuckDB and Parquet files, in one worker thread. See embedded/ for the parts. */
export function embeddedStore({
  folder,
  clock,
  retention,
  pendingLimit = 1_000_000,
}: EmbeddedOptions): HistoryStore {
  const queue = createBatchQueue(pendingLimit)
  // Tells batches of this run from those of an earlier one; a second apart is enough, the file is ours alone.
  const session = clock.now()
  let worker: WorkerClient | undefined
  let fault: string | undefined
  let note: string | undefined
  let bytes = 0
  let isSending = false
  let isClosed = false
  let pause = FIRST_PAUSE_MS
  let running = 0
  const waiting: (() => void)[] = []
  const settled: { resolve: () => void; reject: (error: Error) => void; upTo: number }[] = []
  const stops: (() => void)[] = []

  async function begin(): Promise<void> {
    worker ??= startWorker((reason) => {
      worker = undefined
      failed(`the history worker died: ${reason}`)
    })
    const opened = await worker.ask({ kind: 'open', folder, retention, session }, 'opened')
    queue.settle(opened.lastBatch)
    bytes = opened.bytes
    note = opened.note ?? note
    fault = undefined
    pause = FIRST_PAUSE_MS
  }

  async function open(): Promise<void> {
    try {
      await begin()
    } catch (error) {
      await worker?.stop()
      throw error instanceof WorkerFault && error.isLocked ? new Error(`History: ${error.message}.`) : error
    }
    stops.push(clock.every(SEAL_PERIOD_MS, seal))
    seal()
  }

  function seal(): void {
    worker?.ask({ kind: 'seal', now: clock.now() }, 'sealed').then(
      (done) => {
        bytes = done.bytes
      },
      (error: Error) => {
        fault ??= `a day could not be sealed: ${error.message}`
      },
    )
  }

  /** Sends one batch after the other; each is taken out only once it is stored. */
  async function send(): Promise<void> {
    if (isSending || fault !== undefined) return
    isSending = true
    for (let batch = queue.first(); batch && worker; batch = queue.first()) {
      try {
        const { number, signals, rows } = batch
        bytes = (await worker.ask({ kind: 'append', batch: number, signals, rows }, 'appended')).bytes
        queue.settle(number)
        tellSettled(number)
      } catch (error) {
        failed(error instanceof Error ? error.message : String(error))
        break
      }
    }
    isSending = false
  }

  function tellSettled(upTo: number): void {
    for (const one of settled.splice(0)) {
      if (one.upTo <= upTo || !queue.first()) one.resolve()
      else settled.push(one)
    }
  }

  /** Begins anew after a pause: what DuckDB holds open after an error is not to be trusted. */
  function failed(reason: string): void {
    fault = reason
    for (const one of settled.splice(0)) one.reject(new Error(`History cannot be stored: ${reason}`))
    if (isClosed) return
    const cancel = clock.after(pause, () => {
      begin().then(send, (error: Error) => failed(error.message))
    })
    stops.push(cancel)
    pause = Math.min(2 * pause, LONGEST_PAUSE_MS)
  }

  function flush(): Promise<void> {
    if (fault !== undefined) return Promise.reject(new Error(`History cannot be stored: ${fault}`))
    if (!queue.first()) return Promise.resolve()
    void send()
    return new Promise((resolve, reject) => settled.push({ resolve, reject, upTo: Number.POSITIVE_INFINITY }))
  }

  async function query(range: RangeQuery): Promise<RangeReply> {
    await turn()
    try {
      if (queue.first() && fault === undefined) await withinLimit(clock, flush())
      if (!worker) throw new WorkerFault(`history cannot be read: ${fault ?? 'it is not open'}`)
      const { signals, from, to, points } = range
      return replyOf(
        range,
        await worker.ask({ kind: 'query', signals: [...signals], from, to, points }, 'found'),
      )
    } finally {
      running--
      waiting.shift()?.()
    }
  }

  function turn(): Promise<void> {
    if (running < MOST_RUNNING) {
      running++
      return Promise.resolve()
    }
    if (waiting.length >= MOST_WAITING)
      return Promise.reject(new HistoryBusy('too many history queries are waiting'))
    return new Promise((resolve) =>
      waiting.push(() => {
        running++
        resolve()
      }),
    )
  }

  function health(): StoreHealth {
    const detail = fault === undefined ? note : `History is not being stored: ${fault}. It is tried again.`
    return {
      ok: fault === undefined,
      ...(detail === undefined ? {} : { detail }),
      appended: queue.appended(),
      pending: queue.rows(),
      pendingLimit,
      dropped: queue.dropped(),
      bytesOnDisk: bytes,
    }
  }

  async function close(): Promise<void> {
    await flush().catch(() => {})
    isClosed = true
    for (const stop of stops) stop()
    await worker?.ask({ kind: 'close' }, 'closed').catch(() => {})
    await worker?.stop()
    worker = undefined
  }

  return {
    open,
    append(batch) {
      queue.add(batch)
      void send()
    },
    flush,
    query,
    health,
    close,
  }
}

function replyOf({ signals }: RangeQuery, { grid, cells }: Extract<Result, { kind: 'found' }>): RangeReply {
  const envelopes = signals.map(() => createEnvelope(grid.length))
  for (let i = 0; i < cells.bucket.length; i++) {
    addShare(envelopes[cells.signal[i]!]!, cells.bucket[i]!, {
      min: cells.min[i]!,
      max: cells.max[i]!,
      sum: cells.sum[i]!,
      count: cells.count[i]!,
    })
  }
  return replyFrom(grid, new Map(signals.map((signal, i) => [signal, envelopes[i]!])))
}

/** Resolves when `work` is done, well or badly, or after the limit: a query answers with what is stored. */
function withinLimit(clock: Clock, work: Promise<void>): Promise<void> {
  return new Promise((resolve) => {
    const cancel = clock.after(SETTLE_LIMIT_MS, resolve)
    const done = () => {
      cancel()
      resolve()
    }
    work.then(done, done)
  })
}
