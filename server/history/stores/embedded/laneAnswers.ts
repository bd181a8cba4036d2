import { addSample, replyFrom } from '../../envelope.ts'
import type { LaneQuestion } from '../../lane/laneReader.ts'
import type { RangeQuery, RangeReply, SamplesReply } from '../../store.ts'
import type { Engine } from './engine.ts'
import type { CommitRequest, Request } from './protocol.ts'

type Unstored = Extract<Request, { kind: 'unstored' }>

/** Answers the questions of the lane within the worker thread, with the rows that still wait in memory. */
export interface LaneAnswers {
  /** Not before the one before it was answered. */
  answer(question: LaneQuestion): Promise<RangeReply | SamplesReply>
  /** Call before a commit is stored: an answer may see it at any moment from then on. */
  onCommit(request: CommitRequest): void
  onUnstored(given: Unstored): void
}

/** @param wantUnstored Asks whoever holds them for the rows that are not stored yet; they come to `onUnstored`. */
export function createLaneAnswers(
  engine: Pick<Engine, 'query' | 'samples' | 'lastCommit'>,
  wantUnstored: (id: number, query: RangeQuery) => void,
): LaneAnswers {
  /** First row that was not in the store at a commit. */
  const rowsAfter = new Map<number, number>()
  let wanted: { id: number; resolve(given: Unstored): void } | undefined
  let nextId = 1

  function unstoredOf(query: RangeQuery): Promise<Unstored> {
    return new Promise((resolve) => {
      wanted = { id: nextId++, resolve }
      wantUnstored(wanted.id, query)
    })
  }

  async function range(query: RangeQuery): Promise<RangeReply> {
    for (const commit of rowsAfter.keys()) if (commit < engine.lastCommit()) rowsAfter.delete(commit)
    // Before the store is read: what is stored in between is known by its number.
    const { rows, now } = await unstoredOf(query)
    const { grid, envelopes, through } = await engine.query(query, now)
    const fromRow = rowsAfter.get(through) ?? 0
    const { row, place, at, value, quality } = rows
    for (let i = 0; i < row.length; i++) {
      if (row[i]! < fromRow) continue
      addSample(envelopes[place[i]!]!, grid, { at: at[i]!, value: value[i]!, quality: quality[i]! })
    }
    return replyFrom(grid, new Map([...new Set(query.signals)].map((signal, i) => [signal, envelopes[i]!])))
  }

  return {
    answer: async ({ kind, query }) => (kind === 'range' ? range(query) : engine.samples(query)),
    onCommit: ({ commit, throughRow }) => void rowsAfter.set(commit, throughRow),
    onUnstored: (given) => wanted?.id === given.id && wanted.resolve(given),
  }
}
