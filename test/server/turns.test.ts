import { describe, expect, it } from 'vitest'
import { createTurns, type TurnLimits } from '../../server/turns.ts'

const LIMITS: TurnLimits = {
  name: 'test',
  atOnce: 2,
  waiting: 5,
  each: { underWay: 1, waiting: 3 },
  full: 'Come again.',
}
const stranger = (from: string) => ({ from, isKnown: false })

/** Tasks that are finished by hand. */
function bench(limits = LIMITS) {
  const turns = createTurns(limits)
  const begun: string[] = []
  const endOf = new Map<string, () => void>()
  return {
    turns,
    begun,
    take(asker: string, name: string, isKnown = false) {
      const task = () => {
        begun.push(name)
        return new Promise<string>((resolve) => endOf.set(name, () => resolve(name)))
      }
      return turns.take(task, { from: asker, isKnown })
    },
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
    await expect(take('a', 'a5')).rejects.toMatchObject({ status: 429, message: expect.any(String) })
    expect(turns.queue()).toMatchObject({ length: 3, limit: 5, dropped: 1 })
    await end('a1')
    void take('a', 'a6')
    expect(turns.queue().length).toBe(3)
  })

  it('give up the last task of whoever waits for most when all together wait for too much', async () => {
    const { take, begun, end } = bench({ ...LIMITS, atOnce: 1 })
    const ofA = ['a1', 'a2', 'a3', 'a4'].map((name) => take('a', name))
    for (const name of ['b1', 'b2', 'c1']) void take(name[0]!, name)
    await expect(ofA[3]).rejects.toMatchObject({ status: 503, message: 'Come again.' })
    for (const name of ['a1', 'b1', 'c1', 'a2', 'b2', 'a3']) await end(name)
    expect(begun).toEqual(['a1', 'b1', 'c1', 'a2', 'b2', 'a3'])
  })

  it('refuse one more when everybody waits for one', async () => {
    const { turns, take } = bench({ ...LIMITS, atOnce: 1 })
    for (const name of ['a', 'b', 'c', 'd', 'e', 'f']) void take(name, name)
    await expect(take('g', 'g')).rejects.toMatchObject({ status: 503 })
    expect(turns.queue()).toMatchObject({ length: 5, dropped: 1 })
  })

  it('take a known one before all strangers, in place of the last of them', async () => {
    const { take, begun, end } = bench({ ...LIMITS, atOnce: 1 })
    const strangers = ['a', 'b', 'c', 'd', 'e', 'f'].map((name) => take(name, name))
    void take('k', 'k', true)
    await expect(strangers[5]).rejects.toThrow('Come again.')
    for (const name of ['a', 'k']) await end(name)
    expect(begun).toEqual(['a', 'k', 'b'])
  })

  it('give up a stranger rather than a known one, whoever waits for more', async () => {
    const { take } = bench({ ...LIMITS, atOnce: 1 })
    const known = ['k1', 'k2', 'k3', 'k4'].map((name) => take('k', name, true))
    const strangers = ['a', 'b', 'c'].map((name) => take(name, name))
    await expect(strangers[2]).rejects.toThrow('Come again.')
    expect(known.length).toBe(4)
  })

  it('go on after a task that failed, which fails for its asker alone', async () => {
    const { turns, take, begun } = bench({ ...LIMITS, atOnce: 1 })
    const failing = turns.take(() => Promise.reject(new Error('no disk')), stranger('a'))
    void take('b', 'b1')
    await expect(failing).rejects.toThrow('no disk')
    expect(begun).toEqual(['b1'])
    const throwing = () => {
      throw new Error('no file')
    }
    await expect(bench().turns.take(throwing, stranger('c'))).rejects.toThrow('no file')
  })
})
