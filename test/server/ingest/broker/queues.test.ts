import { describe, expect, it } from 'vitest'
import { createPublishQueue } from '../../../../server/ingest/broker/externalOutlet.ts'
import { createSparseLog } from '../../../../server/sparseLog.ts'
import { createSteppedClock } from '../steppedClock.ts'

const message = (topic: string, payload: string, retain = false) => ({ topic, payload, retain })

describe('createPublishQueue', () => {
  it('gives messages in the order in which they came', () => {
    const queue = createPublishQueue(10, () => {})
    queue.add(message('a', '1'))
    queue.add(message('a', '2'))
    expect([queue.take(), queue.take(), queue.take()].map((one) => one?.payload)).toEqual([
      '1',
      '2',
      undefined,
    ])
  })

  it('keeps of retained messages only the newest per topic, which is not a loss', () => {
    let dropped = 0
    const queue = createPublishQueue(10, () => dropped++)
    queue.add(message('a', '1', true))
    queue.add(message('b', '2', true))
    queue.add(message('a', '3', true))
    expect([queue.take(), queue.take(), queue.take()].map((one) => one?.payload)).toEqual([
      '2',
      '3',
      undefined,
    ])
    expect(dropped).toBe(0)
  })

  it('drops the oldest beyond its limit and counts it', () => {
    let dropped = 0
    const queue = createPublishQueue(2, () => dropped++)
    for (const text of ['1', '2', '3']) queue.add(message('a', text))
    expect(dropped).toBe(1)
    expect(queue.take()?.payload).toBe('2')
    queue.clear()
    expect(dropped).toBe(2)
    expect(queue.size()).toBe(0)
  })
})

describe('createSparseLog', () => {
  it('prints the first line of a kind at once, and every 10 s the latest with how many there were', () => {
    const clock = createSteppedClock()
    const lines: string[] = []
    const log = createSparseLog((line) => lines.push(line), clock)
    for (let i = 0; i < 5; i++) log('a', `a${i}`)
    log('b', 'b0')
    clock.step(10_000)
    log('a', 'a5')
    clock.step(10_000)
    clock.step(10_000)
    log('a', 'a6')
    expect(lines).toEqual([
      'a0',
      'b0',
      'a4 (4 more of this kind within 10 s)',
      'a5 (1 more of this kind within 10 s)',
      'a6',
    ])
  })
})
