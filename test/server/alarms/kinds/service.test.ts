import { describe, expect, it } from 'vitest'
import { planPlant } from '../../../../server/livePlant.ts'
import { plantOf } from '../../../support/plants.ts'

const HOUR_S = 3600

const planned = (fields: string) =>
  planPlant(
    plantOf(`
site: { timeZone: Europe/London }
instruments: [{ id: power, role: activePower, topic: mill/power, unit: kW }]
alarms:
  - { id: oil, name: Change the oil, entry: notice, kind: service, ${fields} priority: low }`),
  )

function judge(fields: string, now: number, runSeconds?: number) {
  const views = runSeconds === undefined ? [] : [{ id: 'runSeconds', value: runSeconds }]
  const opened = planned(fields).settings[0]!.open({
    counters: { views: () => views as never, days: () => undefined },
    figures: { value: () => Number.NaN } as never,
    periodMs: 0,
    wasHeld: false,
    suspicions: () => [],
    evaluate: () => Number.NaN,
  })
  const { holds, quality } = opened.judge({ now, mono: 0, isIdle: false, quietMs: 0 })
  return { holds, quality, detail: opened.detail?.() }
}

describe('the kind service', () => {
  const hours = 'counter: runSeconds, limit: 2000 h,'
  const june = Date.UTC(2026, 5, 1)

  it('is due when the counter has come to its total, and says how far it is', () => {
    expect(judge(hours, june, 1999.9 * HOUR_S)).toEqual({
      holds: false,
      quality: 'good',
      detail: '1 999 of 2 000 h',
    })
    expect(judge(hours, june, 2000 * HOUR_S).holds).toBe(true)
  })

  it('is due from the first moment of its date in the time of the plant', () => {
    // British summer time: 1 July begins at 23:00 UTC
    const midnight = Date.UTC(2026, 5, 30, 23)
    expect(judge('due: 2026-07-01,', midnight - 1).holds).toBe(false)
    expect(judge('due: 2026-07-01,', midnight).holds).toBe(true)
  })

  it('is due by whichever comes first, and unknown where the counter is', () => {
    expect(judge(`${hours} due: 2026-05-01,`, june, 0).holds).toBe(true)
    expect(judge(`${hours} due: 2026-12-01,`, june, 2001 * HOUR_S).holds).toBe(true)
    expect(judge(hours, june)).toMatchObject({ holds: undefined, quality: 'bad' })
  })

  it.each([
    ['', 'alarms[0].due'],
    ['counter: runSeconds,', 'alarms[0].limit'],
    ['counter: hours, limit: 3 h,', 'alarms[0].counter'],
    ['counter: runSeconds, limit: 3 kWh,', 'alarms[0].limit'],
  ])('needs a date, or a counter with its limit: "%s"', (fields, path) => {
    expect(planned(fields).faults.map((one) => one.path)).toEqual([path])
  })
})
