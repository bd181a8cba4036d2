import { describe, expect, it } from 'vitest'
import type { AlarmView } from '../../../server/wire/alarm.ts'
import { dangerOf, type PlantNowView } from '../../../server/wire/danger.ts'
import type { FigureDescription, FigureValue } from '../../../server/wire/figure.ts'
import { startingAlarms } from '../../web/fakeAlarms.ts'

const [overSpeed] = startingAlarms(1_000_000)
const RATED = 157

function figure(id: string, value: number, quality: FigureValue['quality'] = 'good') {
  return {
    description: {
      id,
      name: 'Mains relay',
      ...(id === 'speed' ? { rated: RATED } : {}),
    } as FigureDescription,
    now: (): FigureValue => ({ value, at: 1, quality, reasons: [] }),
  }
}

function look({ state = 'generating', alarms = [], figures = [] }: Partial<Wish> = {}) {
  return dangerOf({ state: { state, since: 5 } as PlantNowView['state'], alarms, figures })
}

interface Wish {
  state: PlantNowView['state']['state']
  alarms: AlarmView[]
  figures: PlantNowView['figures']
}

const alarm = (changes: Partial<AlarmView>): AlarmView => ({ ...overSpeed!, ...changes })

describe('dangerOf', () => {
  it('is nothing at a plant that runs', () => {
    expect(look({ figures: [figure('speed', RATED), figure('tripped.1', 0)] })).toBeNull()
  })

  it('says speed and peak as shares of rated speed, and what to do', () => {
    const alarms = [alarm({ state: 'unacknowledged', active: true, peak: 1.87 * RATED })]
    const found = look({ state: 'overSpeed', alarms, figures: [figure('speed', 1.45 * RATED)] })
    expect(found).toMatchObject({ kind: 'overSpeed', by: 'Over-speed', open: ['overSpeed'] })
    expect([found!.speed, found!.peak]).toEqual([expect.closeTo(1.45, 9), expect.closeTo(1.87, 9)])
    expect(found!.action).toMatch(/inspect before the next start/)
  })

  it('knows no speed from a reading that is bad', () => {
    expect(look({ state: 'overSpeed', figures: [figure('speed', 200, 'bad')] })).toMatchObject({
      speed: null,
    })
  })

  it.each(['latchedUnacknowledged', 'latchedAcknowledged'] as const)(
    'stays while the alarm is %s, also when the machine stands',
    (state) => {
      expect(look({ state: 'stopped', alarms: [alarm({ state, active: false })] })?.kind).toBe('tripped')
    },
  )

  it('names what came first, and all of its event that nobody has acknowledged', () => {
    const event = { episode: 'e1', active: true, state: 'unacknowledged' as const }
    const grid = alarm({
      id: 'grid',
      name: 'Grid lost',
      isForSafety: false,
      figure: 'gridConnected',
      priority: 'low',
      after: null,
      ...event,
    })
    const second = alarm({ after: 'grid', ...event })
    const other = alarm({
      id: 'rack',
      isForSafety: false,
      figure: 'rackLoss',
      episode: 'e2',
      state: 'unacknowledged',
    })
    const found = look({ state: 'overSpeed', alarms: [other, grid, second] })
    expect(found).toMatchObject({ by: 'Grid lost', action: second.action })
    expect(found!.open.toSorted()).toEqual(['grid', 'overSpeed'])
    expect(found!.episode!.id).toBe('e1')
  })

  it('sees a protection that has tripped where no alarm watches it', () => {
    expect(look({ figures: [figure('tripped.1', 1)] })).toMatchObject({ kind: 'tripped', by: 'Mains relay' })
  })

  it.each(['normal', 'shelved', 'outOfService', 'suppressed', 'acknowledged'] as const)(
    'is over for an alarm that is %s and whose condition is gone',
    (state) => expect(look({ alarms: [alarm({ state, active: false })] })).toBeNull(),
  )
})
