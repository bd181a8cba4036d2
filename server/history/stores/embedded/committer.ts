import type { Clock } from '../../../clock.ts'
import type { Chunk, Pending } from './pending.ts'
import type { WorkerLink } from './workerLink.ts'

/** Brings pending rows to the worker, one commit at a time, and keeps them until they are known to be durable. */
export interface Committer {
  /** Sends what is pending, unless a commit is under way or a failed one waits for its next attempt. */
  pump(): void
  flush(): Promise<void>
  onReady(lastCommit: number): void
  onCommitted(commit: number): void
  onFailed(sentence: string): void
  onLost(sentence: string): void
  /** Why rows cannot be stored at present. */
  fault(): string | undefined
}

interface Waiter {
  /** Rows before this number are waited for. */
  row: number
  /** Rows dropped when the waiting began. */
  dropped: number
  resolve(): void
  reject(error: Error): void
}

const FIRST_DELAY_MS = 1_000
const LONGEST_DELAY_MS = 30_000

export function createCommitter(
  pending: Pending,
  clock: Clock,
  link: Pick<WorkerLink, 'post' | 'fault'>,
): Committer {
  let lastCommit = 0
  let settledRow = 0
  let underWay: Chunk | undefined
  let namesSent = 0
  let fault: string | undefined
  let delay = FIRST_DELAY_MS
  let notBefore = Number.NEGATIVE_INFINITY
  let waiters: Waiter[] = []

  function pump(): void {
    if (clock.mono() >= notBefore) send()
  }

  function send(): void {
    if (underWay) return
    const chunk = pending.take()
    if (!chunk) return
    const commit = lastCommit + 1
    const [signal, at, value, quality] = [chunk.signal, chunk.at, chunk.value, chunk.quality].map((column) =>
      column.slice(chunk.start, chunk.end),
    ) as [Int32Array, Float64Array, Float64Array, Uint8Array]
    const newNames = pending.names().slice(namesSent)
    const buffers = [signal, at, value, quality].map((column) => column.buffer as ArrayBuffer)
    const throughRow = rowAfter(chunk)
    if (!link.post({ kind: 'commit', commit, throughRow, newNames, signal, at, value, quality }, buffers)) {
      pending.restore()
      return
    }
    underWay = chunk
    namesSent += newNames.length
  }

  function settle(commit: number): void {
    if (underWay) settledRow = rowAfter(underWay)
    lastCommit = commit
    underWay = undefined
    pending.settle()
    fault = undefined
    delay = FIRST_DELAY_MS
    notBefore = Number.NEGATIVE_INFINITY
    const [done, left] = [waiters.filter(isSettled), waiters.filter((waiter) => !isSettled(waiter))]
    waiters = left
    for (const waiter of done) {
      const lost = pending.dropped() - waiter.dropped
      if (lost === 0) waiter.resolve()
      else waiter.reject(new Error(`history: ${lost} rows were dropped because too many waited`))
    }
    // a backlog, or somebody who waits, need not sit out the rest of the second
    if (waiters.length > 0 || pending.rows() > 0) send()
  }

  const isSettled = (waiter: Waiter) => waiter.row <= settledRow

  function fail(sentence: string): void {
    fault = sentence
    notBefore = clock.mono() + delay
    delay = Math.min(LONGEST_DELAY_MS, delay * 2)
    for (const waiter of waiters.splice(0)) waiter.reject(new Error(sentence))
  }

  return {
    pump,
    flush: () =>
      new Promise((resolve, reject) => {
        const row = pending.nextRow()
        if (pending.rows() === 0) return resolve()
        waiters.push({ row, dropped: pending.dropped(), resolve, reject })
        send()
        if (!underWay) fail(link.fault() ?? 'history: the store is not open')
      }),
    onReady(stored) {
      namesSent = 0
      if (underWay && stored > lastCommit) {
        settledRow = rowAfter(underWay)
        pending.settle()
      } else pending.restore()
      underWay = undefined
      lastCommit = stored
      notBefore = Number.NEGATIVE_INFINITY
      fault = undefined
      send()
    },
    onCommitted: settle,
    onFailed(sentence) {
      underWay = undefined
      pending.restore()
      fail(`history: ${sentence}; the rows wait in memory and it is tried again`)
    },
    onLost: fail,
    fault: () => fault,
  }
}

/** Number of the first row behind a chunk. */
function rowAfter({ firstRow, end }: Chunk): number {
  return firstRow + end
}
