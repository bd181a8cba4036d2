import { describe, expect, it } from 'vitest'
import type { Message } from '../../../../server/ingest/broker/broker.ts'
import { createLookRound } from '../../../../server/ingest/broker/lookRound.ts'
import { createSteppedClock } from '../steppedClock.ts'

function bench(startFails = false) {
  const clock = createSteppedClock()
  const opened: { filters: string[]; isOpen: boolean; send: (topic: string) => void }[] = []
  const round = createLookRound(clock, () => {
    const one = { filters: [] as string[], isOpen: false, send: (_: string) => {} }
    opened.push(one)
    return {
      async start() {
        if (startFails) throw new Error('no address')
        one.isOpen = true
      },
      subscribe: (wanted) => void one.filters.push(...wanted),
      onMessage(listener) {
        one.send = (topic) =>
          listener({ topic, payload: Buffer.from('1'), retained: false, receivedAt: clock.now() })
        return () => {
          one.send = () => {}
        }
      },
      async close() {
        one.isOpen = false
      },
    }
  })
  const seen: Message[] = []
  round.onMessage((message) => seen.push(message))
  return { clock, opened, round, seen }
}

describe('createLookRound', () => {
  it('asks for everything for ten seconds every ten minutes', () => {
    const { clock, opened, round, seen } = bench()
    round.look()
    clock.step(4999)
    expect(opened).toHaveLength(0)
    clock.step(1)
    expect(opened[0]).toMatchObject({ filters: ['#'], isOpen: true })
    opened[0]!.send('mill/flwo')
    expect(seen.map((one) => one.topic)).toEqual(['mill/flwo'])
    clock.step(10_000)
    expect(opened[0]!.isOpen).toBe(false)
    opened[0]!.send('late')
    expect(seen).toHaveLength(1)
    clock.step(600_000)
    expect(opened).toHaveLength(2)
  })

  it('takes at most 2000 messages', () => {
    const { clock, opened, round, seen } = bench()
    round.look()
    clock.step(5000)
    for (let i = 0; i < 5000; i++) opened[0]!.send(`t/${i}`)
    expect(seen).toHaveLength(2000)
    expect(opened[0]!.isOpen).toBe(false)
    clock.step(599_999)
    expect(opened).toHaveLength(1)
  })

  it('opens no second connection beside the first, and none after it was closed', async () => {
    const { clock, opened, round } = bench()
    round.look()
    clock.step(5000)
    round.look()
    clock.step(6000)
    expect(opened).toHaveLength(1)
    await round.close()
    expect(opened[0]!.isOpen).toBe(false)
    clock.step(3_600_000)
    expect(opened).toHaveLength(1)
  })

  it('lives with an address that cannot be reached', async () => {
    const { clock, opened, round } = bench(true)
    round.look()
    clock.step(5000)
    await Promise.resolve()
    await Promise.resolve()
    clock.step(600_000)
    expect(opened).toHaveLength(2)
  })
})
