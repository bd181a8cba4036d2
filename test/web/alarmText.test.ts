import { describe, expect, it } from 'vitest'
import type { AlarmView } from '../../server/wire/alarm.ts'
import { createPlantHold } from '../../web/hold/plantHold.ts'
import { alarmNumber, limitText } from '../../web/view/plant/alarmText.ts'
import { alarmNamed, MORNING, snapshotAt } from './support.ts'

const RAD_PER_S = (2 * Math.PI) / 60

describe('limitText', () => {
  it('gives the limit in the unit that is read', () => {
    const hold = createPlantHold(snapshotAt(MORNING))
    const alarm: AlarmView = {
      ...alarmNamed('overSpeed', MORNING),
      figure: 'speed',
      limit: 1650 * RAD_PER_S,
    }
    expect(limitText(alarm, hold)).toMatch(/^limit 1650(\.0)?\u00a0min⁻¹$/)
  })

  it('says nothing for an alarm on a state, whose limit of 0.5 means nothing to anybody', () => {
    const hold = createPlantHold(snapshotAt(MORNING))
    const alarm: AlarmView = { ...alarmNamed('overSpeed', MORNING), figure: 'jetOpen.1', limit: 0.5 }
    expect(limitText(alarm, hold)).toBe('')
  })
})

describe('alarmNumber', () => {
  it('shows a value that is missing as a dash, never as zero', () => {
    const hold = createPlantHold(snapshotAt(MORNING))
    expect(alarmNumber(alarmNamed('overSpeed', MORNING), null, hold)).toBe('–')
  })
})
