import { type Envelope, replyFrom } from '../../envelope.ts'
import {
  HistoryBusy,
  type RangeQuery,
  type RangeReply,
  type SamplesQuery,
  type SamplesReply,
} from '../../store.ts'
import type { Committer } from './committer.ts'
import { addChunk, type Chunk, type Pending } from './pending.ts'
import type { Answer } from './protocol.ts'

/** Brings queries to the worker one at a time; so many may wait, further ones are refused. */
export interface QueryQueue {
  query(range: RangeQuery): Promise<RangeReply>
  samples(query: SamplesQuery): Promise<SamplesReply>
  onSamples(id: number, answer: SamplesReply): void
  onAnswer(id: number, answer: Answer): void
  onFailed(id: number, sentence: string): void
  onLost(sentence: string): void
  /** Queries that are being answered or wait. */
  length(): number
}

interface RangeQuestion {
  kind: 'query'
  id: number
  query: RangeQuery
  /** Rows that were not durable when the question was sent. */
  captured: Chunk[]
  resolve(reply: RangeReply): void
  reject(error: Error): void
}

interface SamplesQuestion {
  kind: 'samples'
  id: number
  query: SamplesQuery
  resolve(reply: SamplesReply): void
  reject(error: Error): void
}

type Question = RangeQuestion | SamplesQuestion
type Posted = Pick<RangeQuestion, 'kind' | 'id' | 'query'> | Pick<SamplesQuestion, 'kind' | 'id' | 'query'>

interface Settled<T> {
  id: number
  resolve(reply: T): void
  reject(error: Error): void
}

export interface QueryQueueOptions {
  pending: Pending
  committer: Committer
  queryLimit: number
  /** False when there is no worker. */
  post(question: Posted): boolean
}

export function createQueryQueue({ pending, committer, queryLimit, post }: QueryQueueOptions): QueryQueue {
  const waiting: Question[] = []
  let asked: Question | undefined
  let nextId = 1

  function next(): void {
    asked = undefined
    committer.forgetOlder()
    const question = waiting.shift()
    if (!question) return
    asked = question
    if (question.kind === 'query') question.captured = pending.capture()
    const { kind, id, query } = question
    if (!post({ kind, id, query } as Posted)) settle(question.id, () => question.reject(new Error(NO_STORE)))
  }

  function settle(id: number, conclude: (question: Question) => void): void {
    if (asked?.id !== id) return
    const question = asked
    conclude(question)
    next()
  }

  function complete({ query, captured }: RangeQuestion, { grid, envelopes, through }: Answer): RangeReply {
    const signals = [...new Set(query.signals)]
    const bySignal = new Map<string, Envelope>(signals.map((signal, i) => [signal, envelopes[i]!]))
    const names = pending.names()
    // rows up to that commit are in the answer already
    const fromRow = committer.rowAfter(through)
    for (const chunk of captured)
      addChunk(chunk, grid, { fromRow, envelopeOf: (signal) => bySignal.get(names[signal]!) })
    return replyFrom(grid, bySignal)
  }

  function ask<T>(make: (settled: Settled<T>) => Question): Promise<T> {
    if (waiting.length >= queryLimit)
      return Promise.reject(
        new HistoryBusy(`history: ${waiting.length} queries wait already; ask again later`),
      )
    return new Promise((resolve, reject) => {
      waiting.push(make({ id: nextId++, resolve, reject }))
      if (!asked) next()
    })
  }

  return {
    query: (query) => ask<RangeReply>((settled) => ({ kind: 'query', query, captured: [], ...settled })),
    samples: (query) => ask<SamplesReply>((settled) => ({ kind: 'samples', query, ...settled })),
    onAnswer: (id, answer) =>
      settle(id, (question) => {
        if (question.kind === 'query') question.resolve(complete(question, answer))
      }),
    onSamples: (id, answer) =>
      settle(id, (question) => {
        if (question.kind === 'samples') question.resolve(answer)
      }),
    onFailed: (id, sentence) => settle(id, ({ reject }) => reject(new Error(`history: ${sentence}`))),
    onLost(sentence) {
      const lost = [...(asked ? [asked] : []), ...waiting.splice(0)]
      asked = undefined
      for (const question of lost) question.reject(new Error(sentence))
    },
    length: () => waiting.length + (asked ? 1 : 0),
  }
}

const NO_STORE = 'history: the store cannot be read at present'
