import { afterEach, beforeEach, describe, expect, it, vi } from 'vitest'
import type { HealthReply } from '../../../server/wire/replies.ts'
import { START } from '../../support/manualClock.ts'
import { plantOf, THREE_SENSORS } from '../../support/plants.ts'
import { type TestHeadrace, testHeadrace } from '../../support/testHeadrace.ts'

// What is checked follows from the rule of the house that nothing filters or delays the over-speed path; no source.
describe('a listener of the page side that throws', () => {
  let headrace: TestHeadrace
  const fail = () => {
    throw new Error('a fault of the listener')
  }
  const deliver = (payload: string) =>
    headrace.broker.deliver({ topic: 'mill/pressure', payload, receivedAt: headrace.clock.now() })

  beforeEach(async () => {
    headrace = await testHeadrace({ plants: [plantOf(THREE_SENSORS)] })
    const { reading, figures, transition, plantsChanged } = headrace.pageSide.mirror.happenings
    for (const one of [reading, figures, transition, plantsChanged]) one.add(fail)
  })

  afterEach(() => headrace.close())

  it('keeps no reading from the plant, from history or from the listeners after it', () => {
    const heard = vi.fn()
    headrace.pageSide.mirror.happenings.reading.add(heard)
    deliver('4')
    deliver('5')
    headrace.clock.advance(200)
    expect(heard.mock.calls.map(([reading]) => reading.value)).toEqual([400_000, 500_000])
    expect(headrace.live('mill').lastReceivedAt()).toBe(START)
    expect(headrace.watch.health.reply().stages).toContainEqual(
      expect.objectContaining({ name: 'history', total: 2 }),
    )
  })

  it('keeps no plant from being brought up to date', () => {
    const heard = vi.fn()
    headrace.pageSide.mirror.happenings.figures.add(heard)
    deliver('4.9')
    headrace.clock.advance(400)
    expect(heard).toHaveBeenCalledTimes(2)
  })

  it('keeps no changed plant file from being taken over', () => {
    const next = plantOf(THREE_SENSORS.replace('Test mill', 'New mill'))
    headrace.watch.replacePlants([next])
    expect(headrace.live('mill').plant.name).toBe('New mill')
    expect(headrace.notices.at(-1)).toBe('The plant files changed and were read again.')
  })

  it('is counted in the health of the server, and told on the console once in ten seconds', async () => {
    for (let i = 0; i < 4; i++) deliver(`4.${i}`)
    headrace.clock.advance(200)
    const health = (await (
      await fetch(`${headrace.url}/api/health`, { headers: { cookie: headrace.machine } })
    ).json()) as HealthReply
    expect(health.stages).toContainEqual(expect.objectContaining({ name: 'page side', faults: 5 }))
    const told = headrace.notices.filter((notice) => notice.startsWith('page side: a listener failed'))
    expect(told).toHaveLength(1)
    expect(told[0]).toContain('a fault of the listener')
  })
})
