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

type Asked = { kind: 'query'; query: RangeQuery } | { kind: 'samples'; query: SamplesQuery }
type Posted = Asked & { id: number }
type Given = Answer | SamplesReply

/** Brings queries to the worker one at a time; so many may wait, further ones are refused. */
export interface QueryQueue {
  query(range: RangeQuery): Promise<RangeReply>
  samples(query: SamplesQuery): Promise<SamplesReply>
  onAnswer(id: number, answer: Given): void
  onFailed(id: number, sentence: string): void
  onLost(sentence: string): void
}

interface Question {
  posted: Posted
  /** Rows that were not durable when a question for a range was sent. */
  captured: Chunk[]
  conclude(answer: Given): void
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
    const { posted, reject } = question
    if (posted.kind === 'query') question.captured = pending.capture()
    if (!post(posted)) settle(posted.id, () => reject(new Error(NO_STORE)))
  }

  function settle(id: number, conclude: (question: Question) => void): void {
    if (asked?.posted.id !== id) return
    const question = asked
    conclude(question)
    next()
  }

  function complete(
    query: RangeQuery,
    captured: readonly Chunk[],
    { grid, envelopes, through }: Answer,
  ): RangeReply {
    const signals = [...new Set(query.signals)]
    const bySignal = new Map<string, Envelope>(signals.map((signal, i) => [signal, envelopes[i]!]))
    const names = pending.names()
    // rows up to that commit are in the answer already
    const fromRow = committer.rowAfter(through)
    for (const chunk of captured)
      addChunk(chunk, grid, { fromRow, envelopeOf: (signal) => bySignal.get(names[signal]!) })
    return replyFrom(grid, bySignal)
  }

  function ask<Reply>(what: Asked, replyOf: (answer: Given, captured: Chunk[]) => Reply): Promise<Reply> {
    if (waiting.length >= queryLimit)
      return Promise.reject(
        new HistoryBusy(`history: ${waiting.length} queries wait already; ask again later`),
      )
    return new Promise((resolve, reject) => {
      const question: Question = {
        posted: { ...what, id: nextId++ },
        captured: [],
        conclude: (answer) => resolve(replyOf(answer, question.captured)),
        reject,
      }
      waiting.push(question)
      if (!asked) next()
    })
  }

  return {
    query: (query) =>
      ask({ kind: 'query', query }, (answer, captured) => complete(query, captured, answer as Answer)),
    samples: (query) => ask({ kind: 'samples', query }, (answer) => answer as SamplesReply),
    onAnswer: (id, answer) => settle(id, ({ conclude }) => conclude(answer)),
    onFailed: (id, sentence) => settle(id, ({ reject }) => reject(new Error(`history: ${sentence}`))),
    onLost(sentence) {
      const lost = [...(asked ? [asked] : []), ...waiting.splice(0)]
      asked = undefined
      for (const question of lost) question.reject(new Error(sentence))
    },
  }
}

const NO_STORE = 'history: the store cannot be read at present'
