import { createTurns } from '../../../turns.ts'
import { type Envelope, replyFrom } from '../../envelope.ts'
import type { RangeQuery, RangeReply, SamplesQuery, SamplesReply } from '../../store.ts'
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
  id: number
  resolve(answer: Given): void
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
  const turns = createTurns({
    name: 'queries of history',
    atOnce: 1,
    waiting: queryLimit,
    full: 'Too many history queries are waiting. Try again in two seconds.',
  })
  let asked: Question | undefined
  let nextId = 1

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
    return turns.take(async () => {
      committer.forgetOlder()
      // Rows that are not durable when a question for a range is sent.
      const captured = what.kind === 'query' ? pending.capture() : []
      const id = nextId++
      const answer = await new Promise<Given>((resolve, reject) => {
        asked = { id, resolve, reject }
        if (!post({ ...what, id })) reject(new Error('history: the store cannot be read at present'))
      })
      return replyOf(answer, captured)
    })
  }

  const find = (id: number) => (asked?.id === id ? asked : undefined)

  return {
    query: (query) =>
      ask({ kind: 'query', query }, (answer, captured) => complete(query, captured, answer as Answer)),
    samples: (query) => ask({ kind: 'samples', query }, (answer) => answer as SamplesReply),
    onAnswer: (id, answer) => find(id)?.resolve(answer),
    onFailed: (id, sentence) => find(id)?.reject(new Error(`history: ${sentence}`)),
    onLost: (sentence) => asked?.reject(new Error(sentence)),
  }
}
