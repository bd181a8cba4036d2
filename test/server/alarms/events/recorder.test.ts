import { describe, expect, it } from 'vitest'
import { createEventRecorder, type RawRecord } from '../../../../server/alarms/events/recorder.ts'
import { MOST_SAMPLES, type TracedChannel } from '../../../../server/alarms/events/traces.ts'
import type { AlarmSetting } from '../../../../server/alarms/kinds/kind.ts'

const SPEED: TracedChannel = {
  quantity: 'speed',
  name: 'Speed',
  unit: 'rad/s',
  viewUnit: '/min',
  discrete: false,
}
const GRID: TracedChannel = {
  quantity: 'gridConnected',
  name: 'Grid',
  unit: '1',
  viewUnit: '1',
  discrete: true,
}
const setting = (id: string, isRecorded: boolean) => ({ id, name: id, isRecorded }) as AlarmSetting

function bench() {
  const saved: RawRecord[] = []
  const recorder = createEventRecorder({
    plant: { id: 'mill', simulated: false },
    channels: [SPEED, GRID],
    save: (record) => saved.push(structuredClone(record)),
  })
  return { saved, recorder }
}
const raise = (at: number) => ({ isPresent: true, at, value: null })
const speedAt = (at: number) => ({ quantity: 'speed', value: at, at })

describe('createEventRecorder', () => {
  it('stores a record as soon as it begins, every few seconds, and when it is complete', () => {
    const { saved, recorder } = bench()
    recorder.take({ quantity: 'gridConnected', value: 1, at: 1000 })
    for (let at = 80_000; at <= 100_000; at += 1000) recorder.take(speedAt(at))
    recorder.condition(setting('over', true), raise(100_000))
    expect(saved.map((one) => one.status)).toEqual(['begun'])
    expect(saved[0]!.channels[0]!.at[0]).toBe(-10_000)
    expect(saved[0]!.channels[1]).toMatchObject({ at: [-10_000], value: [1] })
    for (let at = 101_000; at <= 162_000; at += 1000) {
      recorder.take(speedAt(at))
      recorder.tick(at)
    }
    const last = saved.at(-1)!
    expect(last.status).toBe('complete')
    expect(last.channels[0]!.at.at(-1)).toBe(60_000)
    expect(saved.filter((one) => one.status === 'begun').length).toBe(13)
  })

  it('puts what came within the ten seconds before into the order, and begins no second record meanwhile', () => {
    const { saved, recorder } = bench()
    recorder.condition(setting('old', false), raise(80_000))
    recorder.condition(setting('grid', false), raise(99_900))
    recorder.condition(setting('over', true), raise(100_000))
    recorder.condition(setting('trip', true), raise(100_200))
    recorder.close()
    expect(new Set(saved.map((one) => one.id))).toEqual(new Set(['mill-100000']))
    expect(saved.at(-1)!.order.map((step) => step.alarm)).toEqual(['grid', 'over', 'trip'])
  })

  it('begins none for an alarm that is not to be recorded, and marks an open one as cut at the end', () => {
    const { saved, recorder } = bench()
    recorder.condition(setting('rack', false), raise(1000))
    expect(saved).toEqual([])
    recorder.condition(setting('over', true), raise(2000))
    recorder.close()
    recorder.close()
    expect(saved.map((one) => one.status)).toEqual(['begun', 'cut'])
  })

  it('holds no more samples than its limit, and counts the others', () => {
    const { saved, recorder } = bench()
    recorder.condition(setting('over', true), raise(100_000))
    for (let i = 1; i <= MOST_SAMPLES + 5; i++) recorder.take(speedAt(100_000 + i))
    recorder.close()
    expect(saved.at(-1)!.channels[0]).toMatchObject({ dropped: 5 })
    expect(saved.at(-1)!.channels[0]!.at.length).toBe(MOST_SAMPLES)
  })
})
