import { describe, expect, it } from 'vitest'
import { createGapWatch } from '../../../server/ingest/gapWatch.ts'
import { doubtsSeen } from '../../../server/plausible/seen.ts'
import { plantOf } from '../../support/plants.ts'

const plant = plantOf(`instruments:
  - { id: contact, role: breakerClosed, topic: m/breaker, unit: "1" }
  - { id: lamp, topic: m/lamp, unit: "1", periodic: false }`)
const told = (received: number, everyMs: number | null, ranMs = 3_600_000) =>
  doubtsSeen(plant, () => ({ received, everyMs }), ranMs)

describe('what comes otherwise than the plant file says', () => {
  it('is a period, with what follows where it is stale in between', () => {
    expect(told(100, 10_000)).toEqual([
      {
        kind: 'seen',
        path: 'instruments[0].period',
        received: '1 s',
        expected:
          'what comes: a message every 10 s; until then it is stale 5 s after each message, and its alarms flap',
      },
    ])
    expect(told(100, 100)[0]?.expected).toBe('what comes: a message every 100 ms')
    for (const every of [null, 300, 1000, 1400]) expect(told(100, every)).toEqual([])
  })

  it('is a topic on which nothing comes, after a minute', () => {
    expect(told(0, null, 59_000)).toEqual([])
    expect(told(0, null, 61_000)).toMatchObject([{ path: 'instruments[0].topic', received: '"m/breaker"' }])
  })
})

describe('createGapWatch', () => {
  it('learns how often something comes, and is moved neither by a pause nor by a clock set back', () => {
    const gaps = createGapWatch()
    for (let i = 0; i < 5; i++) gaps.note(i * 10_000)
    expect(gaps.every()).toBeNull()
    gaps.note(50_000)
    expect(gaps.every()).toBe(10_000)
    for (const at of [650_000, 660_000, 600_000, 610_000]) gaps.note(at)
    expect(gaps.every()).toBe(10_000)
  })

  it('follows a device that was set otherwise', () => {
    const gaps = createGapWatch()
    for (let i = 0; i < 20; i++) gaps.note(i * 1000)
    for (let i = 0; i < 6; i++) gaps.note(20_000 + i * 10_000)
    expect(gaps.every()).toBe(10_000)
  })
})
