import { resolve } from 'node:path'
import type { Clock } from '../../clock.ts'
import { laneIn } from '../lane/address.ts'
import { checkRewrite } from '../samples.ts'
import type { HistoryStore, StoreHealth } from '../store.ts'
import { createCommitter } from './embedded/committer.ts'
import { createPending } from './embedded/pending.ts'
import type { EngineOptions, Report } from './embedded/protocol.ts'
import { createWorkerLink } from './embedded/workerLink.ts'

export interface EmbeddedOptions extends Omit<EngineOptions, 'lane'> {
  clock: Clock
  /** Rows become durable after this time at the latest [ms]. */
  commitMs: number
  /** Past days are sealed, merged and removed this often [ms]. */
  maintainMs: number
  /** Rows that wait in memory. */
  pendingLimit: number
  /** Told once of everything that a person should know of and that has healed by itself. */
  onNotice: (sentence: string) => void
}

export interface EmbeddedStore extends HistoryStore {
  /** Seals, merges and removes now. Resolves with why something of it waits, in one sentence. */
  maintain(): Promise<string | undefined>
}

/** Folders open in this process: the file's lock keeps out other processes only. */
const openFolders = new Set<string>()

/**
 * History in files of this machine. Rows wait in memory for the next commit (≤ `commitMs`), then lie in a hot
 * table, and in sealed files once their UTC day is over. The work is done in one thread of its own; when that
 * dies it is started again, and rows that were not durable are sent again, none twice. It also answers who reads, over the
 * lane: so no answer passes through the thread that watches.
 *
 * `health().detail` also tells of what has healed (a journal put aside, a thread that died) while `ok` is true.
 */
export function embeddedStore(options: EmbeddedOptions): EmbeddedStore {
  const { clock, onNotice, commitMs, maintainMs, pendingLimit, ...engine } = options
  const folder = resolve(options.folder)
  const lane = laneIn(folder)
  const pending = createPending(pendingLimit)
  const notices: string[] = []
  let bytesOnDisk = 0
  let upkeepFault: string | undefined
  let maintained: ((sentence: string | undefined) => void)[] = []
  let stops: (() => void)[] = []
  let isOpen = false

  const link = createWorkerLink({ ...engine, lane }, clock, {
    onReady(report) {
      bytesOnDisk = report.bytes
      for (const notice of report.notices) note(notice)
      committer.onReady(report.lastCommit)
    },
    onReport,
    onLost(sentence) {
      committer.onLost(sentence)
      concludeMaintenance(sentence)
      onNotice(sentence)
    },
  })
  const committer = createCommitter(pending, clock, link)

  function note(sentence: string): void {
    notices.push(sentence)
    onNotice(sentence)
  }

  function onReport(report: Report): void {
    if ('bytes' in report && report.bytes > 0) bytesOnDisk = report.bytes
    if (report.kind === 'committed') committer.onCommitted(report.commit)
    else if (report.kind === 'commitFailed') committer.onFailed(report.sentence)
    else if (report.kind === 'unstoredWanted') giveUnstored(report)
    else if (report.kind === 'notice') note(report.sentence)
    else if (report.kind === 'maintained') {
      if (report.sentence && report.sentence !== upkeepFault) onNotice(report.sentence)
      upkeepFault = report.sentence
      concludeMaintenance(report.sentence)
    }
  }

  function giveUnstored({ id, query }: Extract<Report, { kind: 'unstoredWanted' }>): void {
    const rows = pending.unstored(query)
    const buffers = Object.values(rows).map((column) => column.buffer as ArrayBuffer)
    link.post({ kind: 'unstored', id, rows, now: clock.now() }, buffers)
  }

  function concludeMaintenance(sentence: string | undefined): void {
    for (const conclude of maintained.splice(0)) conclude(sentence)
  }

  function maintain(): Promise<string | undefined> {
    return new Promise((conclude) => {
      const isUnderWay = maintained.length > 0
      maintained = [...maintained, conclude]
      if (!isUnderWay && !link.post({ kind: 'maintain', now: clock.now() })) concludeMaintenance(link.fault())
    })
  }

  async function open(): Promise<void> {
    if (openFolders.has(folder))
      throw new Error(`history: the folder ${folder} is open in this process already; close that store first`)
    openFolders.add(folder)
    try {
      await link.open()
    } catch (error) {
      openFolders.delete(folder)
      throw error
    }
    isOpen = true
    stops = [clock.every(commitMs, committer.pump), clock.every(maintainMs, () => void maintain())]
  }

  async function close(): Promise<void> {
    if (!isOpen) return
    isOpen = false
    for (const stop of stops) stop()
    // what cannot be stored now is lost with the process; health has told so
    await committer.flush().catch(() => {})
    await link.close()
    openFolders.delete(folder)
  }

  function health(): StoreHealth {
    const fault = link.fault() ?? committer.fault() ?? upkeepFault
    const deaths = link.deaths()
    const healed = [
      ...notices,
      ...(deaths > 0 ? [`history: the storing thread was started again ${deaths} times`] : []),
    ]
    const detail = fault ?? healed.at(-1)
    return {
      ok: fault === undefined,
      ...(detail === undefined ? {} : { detail }),
      appended: pending.appended(),
      pending: pending.rows(),
      pendingLimit,
      dropped: pending.dropped(),
      bytesOnDisk,
    }
  }

  return {
    lane,
    open,
    append: pending.append,
    flush: committer.flush,
    async rewrite(change) {
      checkRewrite(change)
      return committer.rewrite(change)
    },
    health,
    close,
    maintain,
  }
}
