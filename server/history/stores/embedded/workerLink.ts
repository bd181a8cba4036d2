import { Worker } from 'node:worker_threads'
import type { Clock } from '../../../clock.ts'
import { workerUrl } from '../../workerUrl.ts'
import type { EngineOptions, Report, Request } from './protocol.ts'

export interface LinkHandlers {
  onReady(report: Extract<Report, { kind: 'ready' }>): void
  onReport(report: Report): void
  /** The worker is gone; what it had not reported may have happened or not. */
  onLost(sentence: string): void
}

/** The worker thread and its life: started, started again when it dies, ended. */
export interface WorkerLink {
  /** Resolves when the worker is ready, or when it is not and will be tried again. Rejects when that cannot help. */
  open(): Promise<void>
  /** False when there is no worker to send to. */
  post(request: Request, transfer?: ArrayBuffer[]): boolean
  /** Why there is no worker, in one sentence; undefined when there is one. */
  fault(): string | undefined
  deaths(): number
  close(): Promise<void>
}

const FIRST_DELAY_MS = 1_000
const LONGEST_DELAY_MS = 30_000
/** A worker that does not end by itself is ended [ms]. */
const CLOSE_LIMIT_MS = 10_000

export function createWorkerLink(options: EngineOptions, clock: Clock, handlers: LinkHandlers): WorkerLink {
  let worker: Worker | undefined
  let isReady = false
  let isClosing = false
  let fault: string | undefined = 'history: the store is not open'
  let deaths = 0
  /** What the worker complained of last: most likely why it ended. */
  let lastWords = ''
  let delay = FIRST_DELAY_MS
  let cancelRestart = () => {}
  let ended: Promise<void> = Promise.resolve()

  /** Starts a worker; resolves with its first word, or with undefined when it died without one. */
  function start(): Promise<Report | undefined> {
    const url = workerUrl(import.meta.url, '../embeddedWorker')
    const started = new Worker(url, { workerData: options, name: 'history' })
    worker = started
    return new Promise((resolve) => {
      let reason = ''
      ended = new Promise((end) => {
        started.on('error', (error) => {
          reason = error instanceof Error ? error.message : String(error)
        })
        started.on('exit', () => {
          resolve(undefined)
          lose(reason)
          end()
        })
      })
      started.on('message', (report: Report) => {
        hear(report)
        resolve(report)
      })
    })
  }

  function hear(report: Report): void {
    if (report.kind === 'ready') {
      isReady = true
      fault = undefined
      handlers.onReady(report)
    } else if (report.kind === 'refused') fault = report.sentence
    else handlers.onReport(report)
    if (report.kind === 'commitFailed') lastWords = report.sentence
    if (report.kind === 'committed') {
      lastWords = ''
      delay = FIRST_DELAY_MS
    }
  }

  function lose(reason: string): void {
    worker = undefined
    const wasReady = isReady
    isReady = false
    if (isClosing) return
    if (wasReady) {
      deaths++
      const cause = reason || lastWords
      fault = `history: the storing thread ended${cause && `: ${cause}`}; it is started again`
    }
    handlers.onLost(fault ?? reason)
    cancelRestart = clock.after(delay, () => void start())
    delay = Math.min(LONGEST_DELAY_MS, delay * 2)
  }

  async function open(): Promise<void> {
    isClosing = false
    const first = await start()
    if (first?.kind !== 'refused' || !first.isFinal) return
    await close()
    throw new Error(first.sentence)
  }

  async function close(): Promise<void> {
    isClosing = true
    cancelRestart()
    const closing = worker
    if (closing && isReady) closing.postMessage({ kind: 'close' } satisfies Request)
    const cancel = clock.after(CLOSE_LIMIT_MS, () => void closing?.terminate())
    await ended
    cancel()
    isReady = false
    fault = 'history: the store is closed'
  }

  return {
    open,
    post(request, transfer = []) {
      if (!worker || !isReady || isClosing) return false
      worker.postMessage(request, transfer)
      return true
    },
    fault: () => fault,
    deaths: () => deaths,
    close,
  }
}
