import { describe, expect, it } from 'vitest'
import { planPlant } from '../../../../server/livePlant.ts'
import { plantOf } from '../../../support/plants.ts'

const MIDNIGHT = Date.UTC(2026, 10, 25)
const HOUR = 3_600_000

interface DayWish {
  value: number
  rate?: number
  /** Whether it was counted since midnight. */
  complete?: boolean
}

/** A licence of 3900 m³ a day, asked at an hour of that day. */
function judge(ahead: string, { value, rate = 0, complete = true }: DayWish, hour: number) {
  const { settings } = planPlant(
    plantOf(`
licence: { dailyVolume: 3900 m3 }
instruments: [{ id: meter, role: discharge, topic: mill/flow, unit: L/s }]
alarms:
  - { id: day, name: Day, kind: counter, counter: waterVolume, limit: 100 % of licence.dailyVolume, ${ahead} priority: low }`),
  )
  const now = MIDNIGHT + hour * HOUR
  const today = { from: complete ? MIDNIGHT : MIDNIGHT + HOUR, to: now, value, gapSeconds: 0 }
  const opened = settings[0]!.open({
    counters: { views: () => [{ id: 'waterVolume', today }] as never, days: () => undefined },
    figures: { value: () => rate } as never,
    periodMs: 0,
    wasHeld: false,
    suspicions: () => [],
    evaluate: () => Number.NaN,
  })
  const { holds, quality } = opened.judge({ now, mono: 0, isIdle: false, quietMs: 0 })
  return { holds, quality, detail: opened.detail?.() }
}

describe('the kind counter', () => {
  it('says when the limit is reached at the present rate (0.05 m³/s from 2460 m³ at noon: 8 h)', () => {
    expect(judge('', { value: 2460, rate: 0.05 }, 12)).toEqual({
      holds: false,
      quality: 'good',
      detail: '2 460 of 3 900 m³ today; at this rate reached at 20:00',
    })
  })

  it('raises so long before as it was asked to', () => {
    expect(judge('ahead: 2 h,', { value: 3540, rate: 0.05 }, 18).holds).toBe(true)
    expect(judge('ahead: 2 h,', { value: 3539, rate: 0.05 }, 18).holds).toBe(false)
  })

  it('says nothing of a time that lies beyond the day', () => {
    expect(judge('ahead: 24 h,', { value: 1000, rate: 0.01 }, 12)).toMatchObject({
      holds: false,
      detail: '1 000 of 3 900 m³ today',
    })
  })

  it('raises at the limit, and is uncertain where a part of the day was not counted', () => {
    expect(judge('', { value: 3900, complete: false }, 22)).toEqual({
      holds: true,
      quality: 'uncertain',
      detail: 'at least 3 900 of 3 900 m³ today: reached',
    })
  })
})
