import { describe, expect, it } from 'vitest'
import { createFairTurns } from '../../server/fairTurns.ts'

const LIMITS = { name: 'test', atOnce: 2, underWay: 1, waiting: 3, waitingOfAll: 5 }

/** Tasks that are finished by hand. */
function bench(limits = LIMITS) {
  const turns = createFairTurns(limits)
  const begun: string[] = []
  const endOf = new Map<string, () => void>()
  return {
    turns,
    begun,
    take: (asker: string, name: string) =>
      turns.take(asker, () => {
        begun.push(name)
        return new Promise<string>((resolve) => endOf.set(name, () => resolve(name)))
      }),
    async end(name: string) {
      await new Promise(setImmediate)
      endOf.get(name)!()
      await new Promise(setImmediate)
    },
  }
}

describe('turns of many who ask', () => {
  it('go round by askers, however many tasks one of them has', async () => {
    const { take, begun, end } = bench({ ...LIMITS, atOnce: 1 })
    for (const name of ['a1', 'a2', 'a3', 'b1', 'b2', 'c1']) void take(name[0]!, name)
    for (const name of ['a1', 'b1', 'c1', 'a2', 'b2', 'a3']) await end(name)
    expect(begun).toEqual(['a1', 'b1', 'c1', 'a2', 'b2', 'a3'])
  })

  it('leave a place free for another while one asker has all of its own under way', async () => {
    const { take, begun } = bench()
    for (const name of ['a1', 'a2', 'b1']) void take(name[0]!, name)
    await new Promise(setImmediate)
    expect(begun).toEqual(['a1', 'b1'])
  })

  it('refuse what is too much of one asker, with a sentence and a count, and take more when some is done', async () => {
    const { turns, take, end } = bench()
    for (const name of ['a1', 'a2', 'a3', 'a4']) void take('a', name)
    expect(await take('a', 'a5')).toMatchObject({ ok: false, status: 429, retryAfterS: 2 })
    expect(turns.queue()).toMatchObject({ length: 3, limit: 5, dropped: 1 })
    await end('a1')
    void take('a', 'a6')
    expect(turns.queue().length).toBe(3)
  })

  it('refuse everybody when all together wait for too much', async () => {
    const { take } = bench()
    for (const name of ['a1', 'a2', 'a3', 'a4', 'b1', 'b2', 'b3']) void take(name[0]!, name)
    expect(await take('c', 'c1')).toMatchObject({ ok: false, status: 503 })
  })

  it('go on after a task that failed, which fails for its asker alone', async () => {
    const { turns, take, begun } = bench({ ...LIMITS, atOnce: 1 })
    const failing = turns.take('a', () => Promise.reject(new Error('no disk')))
    void take('b', 'b1')
    await expect(failing).rejects.toThrow('no disk')
    expect(begun).toEqual(['b1'])
  })
})
