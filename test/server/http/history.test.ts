import { afterEach, beforeEach, describe, expect, it, vi } from 'vitest'
import type { HistoryReply } from '../../../server/wire/replies.ts'
import { memoryStore } from '../../support/memoryHistory.ts'
import { plantOf, THREE_SENSORS } from '../../support/plants.ts'
import type { Readable } from '../../support/readableHistory.ts'
import { type TestHeadrace, testHeadrace } from '../../support/testHeadrace.ts'

/** Answers those for many points when the test says so. */
function slowStore() {
  const memory = memoryStore()
  const asked: number[] = []
  let answerHeavy = () => {}
  const heavy = new Promise<void>((resolve) => {
    answerHeavy = resolve
  })
  const history: Readable = {
    ...memory,
    async query(range) {
      asked.push(range.points)
      if (range.points > 1000) await heavy
      return memory.query(range)
    },
  }
  return { history, asked, answerHeavy }
}

describe('curves over HTTP', () => {
  let headrace: TestHeadrace
  let store: ReturnType<typeof slowStore>

  beforeEach(async () => {
    store = slowStore()
    headrace = await testHeadrace({
      plants: [plantOf(THREE_SENSORS)],
      options: { openReading: true },
      history: store.history,
    })
  })
  afterEach(() => headrace.close())

  const ask = (query: string, from: string) =>
    fetch(`${headrace.url}/api/plants/mill/history?${query}`, { headers: { 'x-forwarded-for': from } })

  it('wait for no more than two heavy ones of a network that asks for sixty', async () => {
    const statuses: number[] = []
    const sixty = Array.from({ length: 60 }, async () => {
      statuses.push((await ask('figures=netHead&points=5000', '203.0.113.1')).status)
    })
    await vi.waitFor(() => expect(statuses).toHaveLength(18), { timeout: 20_000 })
    expect(new Set(statuses)).toEqual(new Set([429]))

    const small = ask('figures=netHead&points=300', '203.0.113.2')
    await vi.waitFor(() => expect(store.asked).toEqual([5000, 5000, 300]), { timeout: 20_000 })
    store.answerHeavy()
    expect((await small).status).toBe(200)
    await Promise.all(sixty)
    expect(statuses.filter((status) => status === 200)).toHaveLength(42)
  })

  it('of a figure that is named twice are given once', async () => {
    const reply = await ask('figures=netHead,netHead', '203.0.113.1')
    expect(reply.status).toBe(200)
    expect(((await reply.json()) as HistoryReply).figures.map((one) => one.id)).toEqual(['netHead'])
  })

  it('are refused where figures and points together are too much, with what can be asked for', async () => {
    const figures = 'netHead,activePower,discharge,hydraulicPower,efficiency,grossHead'
    const reply = await ask(`figures=${figures}&points=5000`, '203.0.113.1')
    expect(reply.status).toBe(400)
    expect(await reply.json()).toEqual({ error: expect.stringContaining('ask for 4166 points') })
  })
})
