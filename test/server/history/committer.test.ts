import { describe, expect, it } from 'vitest'
import { createCommitter } from '../../../server/history/stores/embedded/committer.ts'
import { createPending } from '../../../server/history/stores/embedded/pending.ts'
import type { CommitRequest, Request } from '../../../server/history/stores/embedded/protocol.ts'
import { manualClock } from '../../support/manualClock.ts'
import { batchOf } from '../../support/rangeModel.ts'

const rows = (signal: string, count: number) =>
  batchOf(Array.from({ length: count }, (_, at) => ({ signal, at, value: at, quality: 0 })))

function bench() {
  const sent: CommitRequest[] = []
  const post = (request: Request) => request.kind === 'commit' && sent.push(request) > 0
  const pending = createPending(1_000)
  const clock = manualClock(0)
  const committer = createCommitter(pending, clock, { post, fault: () => undefined })
  committer.onReady(0)
  return { sent, pending, clock, committer }
}

describe('the way of rows to the storing thread', () => {
  it('sends one commit at a time and keeps the rows until it is confirmed', () => {
    const { sent, pending, committer } = bench()
    pending.append(rows('mill/speed', 3))
    committer.pump()
    pending.append(rows('mill/netHead', 2))
    committer.pump()
    expect(sent.map((one) => [one.commit, one.at.length, one.newNames])).toEqual([[1, 3, ['mill/speed']]])
    committer.onCommitted(1)
    expect(sent[1]).toMatchObject({ commit: 2, newNames: ['mill/netHead'] })
    committer.onCommitted(2)
    expect(pending.rows()).toBe(0)
  })

  it('does not send again what the thread stored before it died', () => {
    const { sent, pending, committer } = bench()
    pending.append(rows('mill/speed', 3))
    committer.pump()
    committer.onLost('it died')
    committer.onReady(1)
    expect([sent.length, pending.rows(), committer.fault()]).toEqual([1, 0, undefined])
  })

  it('sends again, with all names, what the thread had not stored before it died', () => {
    const { sent, pending, committer } = bench()
    pending.append(rows('mill/speed', 3))
    committer.pump()
    committer.onLost('it died')
    expect(committer.fault()).toBe('it died')
    committer.onReady(0)
    expect(sent[1]).toMatchObject({ commit: 1, newNames: ['mill/speed'] })
    expect([...sent[1]!.at]).toEqual([0, 1, 2])
  })

  it('waits longer after each failure, up to 30 s', () => {
    const { sent, pending, clock, committer } = bench()
    pending.append(rows('mill/speed', 1))
    committer.pump()
    const waits: number[] = []
    for (let failure = 1; failure <= 7; failure++) {
      committer.onFailed('disk full')
      const start = clock.mono()
      while (sent.length === failure) {
        clock.advance(1_000)
        committer.pump()
      }
      waits.push((clock.mono() - start) / 1_000)
    }
    expect(waits).toEqual([1, 2, 4, 8, 16, 30, 30])
  })

  it('tells who waits for durability when rows are stored, and when they cannot be', async () => {
    const { pending, committer } = bench()
    pending.append(rows('mill/speed', 1))
    const refused = committer.flush()
    committer.onFailed('disk full')
    await expect(refused).rejects.toThrow(/disk full/)
    const stored = committer.flush()
    committer.onCommitted(1)
    await expect(stored).resolves.toBeUndefined()
  })

  it('does not tell that rows are durable when some were dropped meanwhile', async () => {
    const { pending, committer } = bench()
    pending.append(rows('mill/speed', 1))
    committer.pump()
    pending.append(rows('mill/speed', 900))
    const flushed = committer.flush()
    pending.append(rows('mill/speed', 200))
    committer.onCommitted(1)
    committer.onCommitted(2)
    await expect(flushed).rejects.toThrow(/101 rows were dropped/)
  })
})
