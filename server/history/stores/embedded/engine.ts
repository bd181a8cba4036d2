import { mkdirSync } from 'node:fs'
import { createTurns } from '../../../turns.ts'
import { createBlock } from '../../envelope.ts'
import { DAY_MS, divideRange, type TierName } from '../../grid.ts'
import type { RangeQuery, SamplesQuery, SamplesReply } from '../../store.ts'
import { appendRows } from './appendRows.ts'
import { readCatalogue } from './catalogue.ts'
import { removeDamaged } from './damage.ts'
import { openDatabase } from './database.ts'
import type { Answer, CommitRequest, Cut, EngineOptions } from './protocol.ts'
import { readRange, readSamples } from './reads.ts'
import { clockFault, keptFrom } from './retention.ts'
import { createRoomCheck } from './room.ts'
import { openSealedFiles } from './sealedFiles.ts'
import { readStruck, strike } from './struck.ts'
import { findLeaving, firstCommitOfDays, maintain, type Upkeep } from './upkeep.ts'

/** The history of one folder, within the worker thread. */
export interface Engine {
  notices: readonly string[]
  lastCommit(): number
  /** Stores the rows of one commit durably, in the place of what they replace, all or none. One that is stored already is passed over. */
  commit(request: CommitRequest): Promise<void>
  /**
   * The columns of an answer are used again by the next one.
   * @param now Wall clock [ms UTC], for what the retention still keeps.
   */
  query(query: RangeQuery, now: number): Promise<Answer>
  /** Single samples, in the order of their times. */
  samples(query: SamplesQuery): Promise<SamplesReply>
  maintain(now: number): Promise<string | undefined>
  bytes(): number
  close(): Promise<void>
}

/**
 * @param onNotice Told of what heals by itself while the engine is open.
 * @throws {FolderInUse} when another process has the folder open.
 */
export async function openEngine(
  options: EngineOptions,
  onNotice: (sentence: string) => void,
): Promise<Engine> {
  mkdirSync(options.folder, { recursive: true })
  const database = await openDatabase(options.folder, options.limits)
  // only now: two processes must not clear the same folder
  const firstCommits = await firstCommitOfDays(database)
  const sealed = openSealedFiles(
    options.folder,
    ({ firstDay, through }) => (firstCommits.get(firstDay) ?? Number.POSITIVE_INFINITY) <= through,
  )
  const { writer, reader } = database
  const catalogue = await readCatalogue(writer)
  const writes = createTurns({ name: 'history', atOnce: 1, waiting: 8, full: 'too much is being written' })
  const stored = (await writer.runAndReadAll('SELECT commit_number FROM progress')).getRows()[0]?.[0]
  // a file that was lost with its commit numbers must not give numbers that sealed files know already
  let lastCommit = Math.max(Number(stored), ...sealed.segments().map((one) => one.through))
  if (lastCommit > Number(stored)) await writer.run(`UPDATE progress SET commit_number = ${lastCommit}`)
  const upkeep: Upkeep = {
    database,
    sealed,
    catalogue,
    options,
    writes,
    onNotice,
    lastCommit: () => lastCommit,
  }
  sealed.leaving = await findLeaving(upkeep)
  sealed.struck = await readStruck(writer)
  /** Nothing is taken out of days that are being sealed or merged. */
  const rounds = createTurns({ name: 'upkeep', atOnce: 1, waiting: 8, full: 'too much waits for the upkeep' })
  const sentNames: string[] = []
  const take = createBlock()
  const checkRoom = createRoomCheck(options)

  async function commit(request: CommitRequest): Promise<void> {
    sentNames.push(...request.newNames)
    if (request.commit <= lastCommit) return
    checkRoom()
    let struck: Awaited<ReturnType<typeof strike>>
    try {
      await writer.run('BEGIN')
      await catalogue.note([...sentNames, ...(request.cut?.signals ?? [])])
      if (request.cut) struck = await takeOut(request.cut, request.commit)
      await appendRows(writer, request, sentNames.map(catalogue.idOf))
      await writer.run(`UPDATE progress SET commit_number = ${request.commit}`)
      await writer.run('COMMIT')
    } catch (error) {
      // when COMMIT itself failed there is nothing left to roll back
      await writer.run('ROLLBACK').catch(() => {})
      catalogue.forget()
      throw error
    }
    catalogue.confirm()
    if (struck) sealed.struck = [...sealed.struck, struck]
    lastCommit = request.commit
  }

  async function takeOut(cut: Cut, commit: number): Promise<Awaited<ReturnType<typeof strike>>> {
    const ids = cut.signals.map(catalogue.idOf).join(', ')
    await writer.run(
      `DELETE FROM hot WHERE signal IN (${ids}) AND at_ms >= ${cut.from} AND at_ms < ${cut.to}`,
    )
    return strike(writer, sealed, { cut, idOf: catalogue.idOf, commit })
  }

  async function query(range: RangeQuery, now: number): Promise<Answer> {
    const segments = sealed.segments()
    const newest = segments.reduce((day, one) => Math.max(day, one.lastDay), 0)
    const reference = clockFault(segments, now) ? (newest + 1) * DAY_MS : now
    const kept = (tier: 'raw' | 'minute') =>
      keptFrom(segments, tier, { now: reference, days: options.retentionDays[tier], from: range.from })
    const rawFrom = kept('raw')
    const finest: TierName = range.from < kept('minute') ? 'hour' : range.from < rawFrom ? 'minute' : 'raw'
    const signals = [...new Set(range.signals)]
    const { leaving, struck } = sealed
    const source = { signals, ids: signals.map(catalogue.idOf), segments, leaving, struck, rawFrom }
    const grid = divideRange(range, finest)
    const attempt = () => readRange(reader, { ...source, grid, take }, options.queryTimeoutMs)
    return read(attempt, { ...range, again: () => query(range, now) })
  }

  async function samples(wish: SamplesQuery): Promise<SamplesReply> {
    const ids = [...new Set(wish.signals)].map(catalogue.idOf)
    const { leaving, struck } = sealed
    const source = { query: wish, ids, segments: sealed.segments(), leaving, struck }
    const attempt = () => readSamples(reader, source, options.queryTimeoutMs)
    return read(attempt, { from: wish.from - wish.lead, to: wish.to, again: () => samples(wish) })
  }

  /** A file that turns out to be damaged is taken away, and the question asked anew. */
  async function read<T>(
    attempt: () => Promise<T>,
    { from, to, again }: { from: number; to: number; again: () => Promise<T> },
  ): Promise<T> {
    const segments = sealed.segments()
    try {
      return await sealed.read(attempt)
    } catch (error) {
      const touched = segments.filter(
        (one) => one.firstDay * DAY_MS < to && (one.lastDay + 1) * DAY_MS > from,
      )
      if (await removeDamaged({ sealed, connection: reader, onNotice }, touched, error)) return again()
      throw error
    }
  }

  return {
    notices: database.notices,
    lastCommit: () => lastCommit,
    commit(request) {
      const write = () => writes.take(() => commit(request))
      return request.cut ? rounds.take(write) : write()
    },
    query,
    samples,
    maintain: (now) => rounds.take(() => maintain(upkeep, now)),
    bytes: () => database.bytes() + sealed.bytes(),
    async close() {
      await sealed.readersGone()
      await writes.take(async () => database.close())
    },
  }
}
