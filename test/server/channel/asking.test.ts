import { beforeEach, describe, expect, it } from 'vitest'
import { type Asking, createAsking } from '../../../server/channel/asking.ts'
import type { ToWatch } from '../../../server/channel/messages.ts'
import { granted } from '../../../server/outcome.ts'
import { type ManualClock, manualClock, START } from '../../support/manualClock.ts'

type Sent = Extract<ToWatch, { kind: 'question' }>

// What is checked follows from the rule of the house on queues: a limit, a policy, a counter; no source.
describe('questions to the watch', () => {
  let clock: ManualClock
  let sent: Sent[]
  let asking: Asking
  const days = (n: number) =>
    asking.ask('counterDays', { plant: 'mill', counter: 'energy', from: '2026-01-01', to: `2026-01-${n}` })

  beforeEach(() => {
    clock = manualClock(START)
    sent = []
    asking = createAsking({ post: (message) => sent.push(message as Sent), clock })
  })

  it('go two at a time where somebody only looks, and those who look at the same share one', async () => {
    const all = [days(11), days(11), days(12), days(13)]
    expect(sent.map(({ asked }) => (asked as { to: string }).to)).toEqual(['2026-01-11', '2026-01-12'])
    asking.onAnswer(sent[0]!.id, granted('first'))
    expect(await all[0]).toEqual(granted('first'))
    expect(await all[1]).toEqual(granted('first'))
    expect(sent).toHaveLength(3)
  })

  it('let what people do pass those that look', () => {
    for (let n = 10; n < 40; n++) void days(n)
    void asking.ask('enableChannel', { channel: 'mail' })
    expect(sent.at(-1)).toMatchObject({ question: 'enableChannel' })
  })

  it('are refused when too many wait, and counted', async () => {
    const all = Array.from({ length: 140 }, (_, n) => days(n))
    expect(await all[139]).toMatchObject({ ok: false, status: 503 })
    expect(asking.queue()).toMatchObject({ length: 130, dropped: 10 })
  })

  it('are given up after five seconds, and of a deed it is said that it may have been done', async () => {
    const look = days(11)
    const deed = asking.ask('enableChannel', { channel: 'mail' })
    clock.advance(5000)
    expect(await look).toMatchObject({ ok: false, error: 'The watch did not answer within 5 s.' })
    expect(await deed).toMatchObject({
      error: 'The watch did not answer within 5 s. It may have been done: look before you try again.',
    })
    asking.onAnswer(sent[0]!.id, granted('late'))
    expect(asking.queue().length).toBe(0)
  })
})
