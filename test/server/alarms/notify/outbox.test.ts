import { afterEach, beforeEach, describe, expect, it } from 'vitest'
import type { Delivery } from '../../../../server/alarms/notify/delivery.ts'
import { createOutbox } from '../../../../server/alarms/notify/outbox.ts'
import type { State } from '../../../../server/state/openState.ts'
import { manualClock } from '../../../support/manualClock.ts'
import { scratchState, WEDNESDAY } from '../../../support/notifyBench.ts'

const delivery = (n: number, more: Partial<Delivery> = {}): Delivery => ({
  id: `hr_${n}`,
  incident: 'mill/over/1',
  kind: 'raised',
  plant: 'mill',
  alarm: 'over',
  priority: 'medium',
  recipient: 'anna',
  channel: 'mail',
  step: 0,
  createdAt: WEDNESDAY,
  dueAt: WEDNESDAY + n,
  message: { short: `message ${n}`, lines: [] },
  ...more,
})
const plan = (...add: Delivery[]) => ({ add, amend: [], end: [] })

describe('the outbox', () => {
  let state: State
  let clock: ReturnType<typeof manualClock>
  beforeEach(() => {
    state = scratchState()
    clock = manualClock(WEDNESDAY)
  })
  afterEach(() => state.close())
  const ids = (list: { id: string }[]) => list.map((one) => one.id)

  it('gives up the least important, oldest one when it is full, counts it and says so', () => {
    const outbox = createOutbox(state, clock, 3)
    outbox.put(plan(delivery(1), delivery(2, { priority: 'high' }), delivery(3, { priority: 'low' })))
    outbox.put(plan(delivery(4, { priority: 'high' })))
    outbox.put(plan(delivery(5, { priority: 'high' })))
    expect(outbox.queue()).toMatchObject({ length: 3, limit: 3, dropped: 2 })
    expect(outbox.table.get('hr_3')).toMatchObject({
      status: 'failed',
      reason: expect.stringContaining('more than 3'),
    })
    expect(outbox.table.get('hr_1')).toMatchObject({ status: 'failed' })
  })

  it('hands out one of each lane, the important first, then what was tried least', () => {
    const outbox = createOutbox(state, clock)
    const bert = { recipient: 'bert' }
    const over = { priority: 'high', incident: 'mill/over/2' } as const
    outbox.put(plan(delivery(1), delivery(2, over), delivery(3, bert), delivery(4), delivery(5, over)))
    outbox.retryIn('hr_1', { ms: 0, isAsked: false }, 'away')
    clock.advance(10)
    expect(ids(outbox.due('mail', 9))).toEqual(['hr_2', 'hr_3', 'hr_1'])
    expect(ids(outbox.due('mail', 2))).toEqual(['hr_2', 'hr_3'])
    expect(outbox.due('other', 3)).toEqual([])
  })

  it('neither doubles nor forgets when what it wrote is written again', () => {
    const outbox = createOutbox(state, clock)
    const write = outbox.take(plan(delivery(1)))
    state.write(write)
    outbox.sent('hr_1')
    state.write(write)
    expect(outbox.table.get('hr_1')).toMatchObject({ status: 'sent', attempts: 1 })
    expect(createOutbox(state, clock).queue().length).toBe(0)
  })

  it('is not held back by a wall clock that was years behind at the start of the machine', () => {
    createOutbox(state, clock).put(plan(delivery(60_000)))
    const early = manualClock(Date.UTC(2015, 0, 1))
    const outbox = createOutbox(state, early)
    early.advance(60_001)
    expect(ids(outbox.due('mail', 9))).toEqual(['hr_60000'])
  })

  it('ends a ladder in memory and on disk alike, but not what is due already', () => {
    const outbox = createOutbox(state, clock)
    outbox.put(
      plan(delivery(0), delivery(600_000, { step: 1 }), delivery(600_001, { step: 1, alarm: 'weak' })),
    )
    const ending = { plant: 'mill', alarm: 'over', what: 'ladder' as const, reason: 'acknowledge by Anna' }
    outbox.put({ add: [], amend: [], end: [ending] })
    const after = [0, 600_000, 600_001].map((n) => outbox.table.get(`hr_${n}`)!.status)
    expect(after).toEqual(['waiting', 'cancelled', 'waiting'])
    expect(outbox.queue().length).toBe(2)
    expect(createOutbox(state, clock).queue().length).toBe(2)
  })

  it('keeps what became of deliveries for 90 days', () => {
    const outbox = createOutbox(state, clock)
    outbox.put(plan(delivery(1)))
    outbox.sent('hr_1')
    clock.advance(89 * 86_400_000)
    outbox.tidy()
    expect(outbox.table.get('hr_1')).toBeDefined()
    clock.advance(2 * 86_400_000)
    outbox.tidy()
    expect(outbox.table.get('hr_1')).toBeUndefined()
  })
})
