import { mkdtempSync, rmSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { afterEach, beforeEach, describe, expect, it } from 'vitest'
import { secondsAbove } from '../../../../server/alarms/events/assess.ts'
import { eventCsv } from '../../../../server/alarms/events/csv.ts'
import { createEventStore, MOST_EVENTS } from '../../../../server/alarms/events/eventStore.ts'
import { createTraceRing } from '../../../../server/alarms/events/traces.ts'
import { openState } from '../../../../server/state/openState.ts'
import type { EventRecord } from '../../../../server/wire/event.ts'

const AT = Date.UTC(2026, 10, 25, 2, 14, 7)
const record = (n: number, status: EventRecord['status'] = 'complete'): EventRecord => ({
  id: `mill-${n}`,
  plant: 'mill',
  at: AT + n,
  alarm: 'over',
  name: 'Over-speed',
  status,
  story: ['It ran fast.', ...(status === 'begun' ? ['Still being recorded.'] : [])],
  simulated: false,
  from: AT + n - 10_000,
  to: AT + n,
  channels: [
    {
      quantity: 'speed',
      name: 'Speed',
      unit: 'rad/s',
      viewUnit: '/min',
      discrete: false,
      at: [-50, 0],
      value: [(1500 * Math.PI) / 30, (1650 * Math.PI) / 30],
      dropped: 0,
    },
    {
      quantity: 'tripped.1',
      name: 'Trip',
      unit: '1',
      viewUnit: '1',
      discrete: true,
      at: [-20],
      value: [1],
      dropped: 0,
    },
  ],
  peak: null,
  levels: [],
  order: [],
})

describe('createEventStore', () => {
  let folder: string
  beforeEach(() => {
    folder = mkdtempSync(join(tmpdir(), 'headrace-events-'))
  })
  afterEach(() => rmSync(folder, { recursive: true, force: true }))

  it('keeps a record across a restart', () => {
    const first = openState(folder)
    createEventStore(first).save(record(1))
    first.close()
    const second = openState(folder)
    const store = createEventStore(second)
    expect(store.list('mill', 10)).toMatchObject([
      { id: 'mill-1', status: 'complete', story: ['It ran fast.'] },
    ])
    expect(store.find('mill', 'mill-1')?.channels[0]?.value[0]).toBeCloseTo(157.08, 3)
    expect(store.find('elsewhere', 'mill-1')).toBeUndefined()
    second.close()
  })

  it('marks what a killed server left begun as cut, with what had been stored until then', () => {
    const first = openState(folder)
    createEventStore(first).save(record(1, 'begun'))
    first.close()
    const second = openState(folder)
    const store = createEventStore(second)
    const story = ['It ran fast.', 'The server ended before the record did.']
    expect(store.list('mill', 10)).toMatchObject([{ status: 'cut', story }])
    expect(store.find('mill', 'mill-1')).toMatchObject({ status: 'cut', story })
    second.close()
  })

  it('replaces a begun record by the complete one, and keeps no more than its limit', () => {
    const state = openState(folder)
    const store = createEventStore(state)
    store.save(record(1, 'begun'))
    store.save(record(1))
    expect(store.list('mill', 10).map((one) => one.status)).toEqual(['complete'])
    for (let n = 2; n <= MOST_EVENTS + 3; n++) store.save(record(n))
    const kept = store.list('mill', 1000)
    expect(kept.length).toBe(MOST_EVENTS)
    expect(kept.at(-1)?.id).toBe('mill-4')
    state.close()
  })
})

describe('eventCsv', () => {
  it('writes one line per sample in order of time, in the unit that people read', () => {
    expect(eventCsv(record(0)).split('\r\n')).toEqual([
      'at,seconds_from_alarm,quantity,value,unit',
      '2026-11-25T02:14:06.950Z,-0.05,speed,1500,/min',
      '2026-11-25T02:14:06.980Z,-0.02,tripped.1,1,1',
      '2026-11-25T02:14:07.000Z,0,speed,1650,/min',
      '',
    ])
  })
})

describe('secondsAbove', () => {
  it('takes straight lines between samples: up and down a triangle of 20 in 2 s is above its half for 1 s', () => {
    expect(secondsAbove({ at: [0, 1000, 2000], speed: [100, 120, 100] }, 110)).toBeCloseTo(1, 12)
  })

  it('counts a level that is held throughout, and nothing after the last sample', () => {
    expect(secondsAbove({ at: [0, 500], speed: [110, 110] }, 110)).toBe(0.5)
    expect(secondsAbove({ at: [0], speed: [200] }, 110)).toBe(0)
  })
})

describe('createTraceRing', () => {
  it('forgets the oldest samples and tells the state before the span', () => {
    const ring = createTraceRing(3)
    for (let i = 0; i < 5; i++) ring.add(i * 10, i)
    expect(ring.since(25, false)).toEqual({ at: [30, 40], value: [3, 4] })
    expect(ring.since(25, true)).toEqual({ at: [25, 30, 40], value: [2, 3, 4] })
    expect(ring.since(0, true).at[0]).toBe(20)
  })
})
