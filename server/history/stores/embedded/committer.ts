import type { Clock } from '../../../clock.ts'
import type { Rewrite } from '../../store.ts'
import type { Chunk, Pending } from './pending.ts'
import type { CommitRequest } from './protocol.ts'
import type { WorkerLink } from './workerLink.ts'

/** Brings pending rows to the worker, one commit at a time, and keeps them until they are known to be durable. */
export interface Committer {
  /** Sends what is pending, unless a commit is under way or a failed one waits for its next attempt. */
  pump(): void
  flush(): Promise<void>
  /** As `HistoryStore.rewrite`: a commit of its own, after all that was appended before; one that fails is not tried again. */
  rewrite(change: Rewrite): Promise<void>
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

/** One that is asked for, and who waits for it. */
interface Rewriting {
  change: Rewrite
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
  let rewriting: Rewriting | undefined
  const rewrites: Rewriting[] = []
  let namesSent = 0
  let fault: string | undefined
  let delay = FIRST_DELAY_MS
  let notBefore = Number.NEGATIVE_INFINITY
  let waiters: Waiter[] = []

  function pump(): void {
    if (clock.mono() >= notBefore) send()
  }

  function send(): void {
    if (underWay || rewriting) return
    const rewrite = rewrites.shift()
    if (rewrite) {
      sendRewrite(rewrite)
      return
    }
    const chunk = pending.take()
    if (!chunk) return
    const [signal, at, value, quality] = [chunk.signal, chunk.at, chunk.value, chunk.quality].map((column) =>
      column.slice(chunk.start, chunk.end),
    ) as [Int32Array, Float64Array, Float64Array, Uint8Array]
    if (post({ throughRow: rowAfter(chunk), signal, at, value, quality })) underWay = chunk
    else pending.restore()
  }

  function post(columns: Omit<CommitRequest, 'kind' | 'commit' | 'newNames'>): boolean {
    const { signal, at, value, quality } = columns
    const newNames = pending.names().slice(namesSent)
    const buffers = [signal, at, value, quality].map((column) => column.buffer as ArrayBuffer)
    if (!link.post({ kind: 'commit', commit: lastCommit + 1, newNames, ...columns }, buffers)) return false
    namesSent += newNames.length
    return true
  }

  function sendRewrite(wish: Rewriting): void {
    const { signals, from, to, rows } = wish.change
    const signal = Int32Array.from(rows.signals, (name) => pending.idOf(name) ?? -1)
    const [at, value, quality] = [rows.at.map(Math.floor), rows.value.slice(), rows.quality.slice()] as const
    const isFit = !signal.includes(-1)
    rewriting = wish
    const columns = { throughRow: settledRow, signal, at, value, quality }
    if (isFit && post({ ...columns, cut: { signals, from, to } })) return
    endRewrite(isFit ? (link.fault() ?? 'history: the store is not open') : 'history: too many signals')
  }

  /** @param failed Why it is not stored; undefined where it is. */
  function endRewrite(failed?: string): void {
    const ended = rewriting
    rewriting = undefined
    if (failed === undefined) ended?.resolve()
    else ended?.reject(new Error(failed))
  }

  function settle(commit: number): void {
    if (underWay) settledRow = rowAfter(underWay)
    lastCommit = commit
    underWay = undefined
    endRewrite()
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
    if (waiters.length > 0 || rewrites.length > 0 || pending.rows() > 0) send()
  }

  const isSettled = (waiter: Waiter) => waiter.row <= settledRow

  function fail(sentence: string): void {
    fault = sentence
    notBefore = clock.mono() + delay
    delay = Math.min(LONGEST_DELAY_MS, delay * 2)
    for (const waiter of [...waiters.splice(0), ...rewrites.splice(0)]) waiter.reject(new Error(sentence))
  }

  function flush(): Promise<void> {
    return new Promise((resolve, reject) => {
      const row = pending.nextRow()
      if (pending.rows() === 0) return resolve()
      waiters.push({ row, dropped: pending.dropped(), resolve, reject })
      send()
      if (!underWay && !rewriting) fail(link.fault() ?? 'history: the store is not open')
    })
  }

  return {
    pump,
    flush,
    async rewrite(change) {
      await flush()
      return new Promise((resolve, reject) => {
        rewrites.push({ change, resolve, reject })
        send()
      })
    },
    onReady(stored) {
      namesSent = 0
      if (underWay && stored > lastCommit) {
        settledRow = rowAfter(underWay)
        pending.settle()
      } else pending.restore()
      endRewrite(stored > lastCommit ? undefined : 'history: the storing thread ended before it was done')
      underWay = undefined
      lastCommit = stored
      notBefore = Number.NEGATIVE_INFINITY
      fault = undefined
      send()
    },
    onCommitted: settle,
    onFailed(sentence) {
      // of what was asked for by somebody who hears of it the store itself is no worse
      if (rewriting) {
        endRewrite(`history: ${sentence}`)
        send()
        return
      }
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
