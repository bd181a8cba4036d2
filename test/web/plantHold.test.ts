import { effect } from '@preact/signals'
import { describe, expect, it } from 'vitest'
import type { Frame } from '../../server/wire/socketEvents.ts'
import {
  createPlantHold,
  isSamePlant,
  mergeAlarms,
  takeFrame,
  takeSnapshot,
} from '../../web/hold/plantHold.ts'
import { chartGroups } from '../../web/hold/trends.ts'
import { alarmNamed, MORNING, snapshotAt } from './support.ts'

const good = (value: number) => ({ value, at: MORNING, quality: 'good' as const, reasons: [] })
const frame = (sequence: number, values: Frame['values']): Frame => ({ sequence, at: MORNING, values })

describe('takeFrame', () => {
  it('changes the figures it names and no other', () => {
    const hold = createPlantHold(snapshotAt(MORNING))
    const before = hold.figures[0]!.value.value
    expect(takeFrame(hold, frame(11, [[1, good(0.5)]]))).toBe('taken')
    expect(hold.figures[1]!.value.value.value).toBe(0.5)
    expect(hold.figures[0]!.value.value).toBe(before)
  })

  it('wakes only those who look at a figure that changed', () => {
    const hold = createPlantHold(snapshotAt(MORNING))
    const woken = [0, 0]
    const stops = [0, 1].map((i) =>
      effect(() => {
        void hold.figures[i]!.value.value
        woken[i]!++
      }),
    )
    takeFrame(hold, frame(11, [[1, good(0.5)]]))
    for (const stop of stops) stop()
    expect(woken).toEqual([1, 2])
  })

  it('passes over a frame that a snapshot has overtaken', () => {
    const hold = createPlantHold(snapshotAt(MORNING, 10))
    expect(takeFrame(hold, frame(10, [[1, good(0.5)]]))).toBe('old')
    expect(hold.figures[1]!.value.value.value).not.toBe(0.5)
  })

  it('takes nothing of a frame that names an unknown figure', () => {
    const hold = createPlantHold(snapshotAt(MORNING))
    expect(
      takeFrame(
        hold,
        frame(11, [
          [1, good(0.5)],
          [999, good(1)],
        ]),
      ),
    ).toBe('unknownFigure')
    expect(hold.figures[1]!.value.value.value).not.toBe(0.5)
  })

  it('tells its listeners after the figures have changed', () => {
    const hold = createPlantHold(snapshotAt(MORNING))
    let seen: number | null = null
    hold.onFrame.add(() => {
      seen = hold.figures[1]!.value.value.value
    })
    takeFrame(hold, frame(11, [[1, good(0.5)]]))
    expect(seen).toBe(0.5)
  })
})

describe('takeSnapshot', () => {
  it('starts counting frames anew after a restart of the server', () => {
    const hold = createPlantHold(snapshotAt(MORNING, 5000))
    takeSnapshot(hold, snapshotAt(MORNING + 1000, 3))
    expect(takeFrame(hold, frame(4, []))).toBe('taken')
  })

  it('is only for the same plant described in the same way', () => {
    const hold = createPlantHold(snapshotAt(MORNING))
    const other = snapshotAt(MORNING)
    expect(isSamePlant(hold, structuredClone(other))).toBe(true)
    expect(isSamePlant(hold, { ...other, plant: { ...other.plant, trends: [] } })).toBe(false)
  })
})

describe('mergeAlarms', () => {
  it('keeps the newer of two views of an alarm, whichever comes last', () => {
    const older = alarmNamed('overSpeed', MORNING)
    const newer = { ...older, state: 'latchedAcknowledged' as const, changedAt: MORNING }
    expect(mergeAlarms([older], [newer])).toEqual([newer])
    expect(mergeAlarms([newer], [older])).toEqual([newer])
  })
})

describe('chartGroups', () => {
  const groupsOf = (...ids: string[]) => {
    const hold = createPlantHold(snapshotAt(MORNING))
    const groups = chartGroups(ids.flatMap((id) => hold.byId.get(id) ?? []))
    return groups.map((group) => group.map((figure) => figure.description.id))
  }

  it('draws powers on one axis', () => {
    expect(groupsOf('hydraulicPower', 'speed', 'activePower')).toEqual([
      ['hydraulicPower', 'activePower'],
      ['speed'],
    ])
  })

  it('keeps a head of 24 m and a level of 0.4 m apart', () => {
    expect(groupsOf('netHead', 'sumpLevel')).toEqual([['netHead'], ['sumpLevel']])
  })

  it('compares powers even while one of them is nothing', () => {
    const hold = createPlantHold(snapshotAt(MORNING))
    const powers = ['hydraulicPower', 'activePower'].flatMap((id) => hold.byId.get(id) ?? [])
    powers[0]!.value.value = good(0)
    expect(chartGroups(powers)).toHaveLength(1)
  })
})
