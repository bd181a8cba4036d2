import { describe, expect, it } from 'vitest'
import type { AlarmView } from '../../server/wire/alarm.ts'
import { groupAlarms, listEvents } from '../../web/view/plant/alarmGroups.ts'
import { alarmNamed, MORNING } from './support.ts'

const alarm = (id: string, more: Partial<AlarmView>): AlarmView => ({
  ...alarmNamed('bearingHot', MORNING),
  id,
  ...more,
})
const ids = (alarms: AlarmView[]) => alarms.map((one) => one.id)

describe('listEvents', () => {
  const of = (id: string, more: Partial<AlarmView>) =>
    alarm(id, { state: 'unacknowledged', episode: 'one', figure: id, ...more })
  const all = [
    of('over', { priority: 'high', after: 'grid', onset: { from: 2, to: 2 }, raisedAt: 2 }),
    of('grid', { priority: 'low', onset: { from: 1, to: 1 }, raisedAt: 3, name: 'Grid lost' }),
    of('relay', { priority: 'medium', after: 'grid', onset: { from: 2, to: 2 }, raisedAt: 2 }),
    of('rack', { priority: 'medium', episode: 'two', onset: { from: 1, to: 1 } }),
  ]

  it('puts an event in one place: what came first and the gravest in view, the rest folded', () => {
    const events = listEvents(groupAlarms(all).listed, all)
    expect(
      events.map(({ episode, heads, followers }) => [episode?.headline, ids(heads), ids(followers)]),
    ).toEqual([
      ['Grid lost', ['over', 'grid'], ['relay']],
      [undefined, ['rack'], []],
    ])
    expect(events[0]!.episode).toMatchObject({ unacknowledged: 3, priority: 'high', raisedAt: 3 })
  })
})

describe('groupAlarms', () => {
  it('lists what is announced, the cause before what followed it', () => {
    const { listed } = groupAlarms([
      alarm('followed', { state: 'unacknowledged', priority: 'medium', after: 'first', raisedAt: 2 }),
      alarm('seen', { state: 'acknowledged', priority: 'high' }),
      alarm('first', { state: 'unacknowledged', priority: 'medium', raisedAt: 1 }),
      alarm('worst', { state: 'latchedUnacknowledged', priority: 'high' }),
    ])
    expect(ids(listed)).toEqual(['worst', 'first', 'followed', 'seen'])
  })

  it('never counts as normal what cannot be judged', () => {
    const groups = groupAlarms([alarm('blind', { unknown: true }), alarm('calm', {})])
    expect([ids(groups.blind), ids(groups.quiet)]).toEqual([['blind'], ['calm']])
  })

  it('keeps what is off the list in view, and notices apart', () => {
    const groups = groupAlarms([
      alarm('shelved', { state: 'shelved', active: true }),
      alarm('out', { state: 'outOfService', unknown: true }),
      alarm('note', { entry: 'notice', state: 'acknowledged' }),
      alarm('idle', { state: 'suppressed' }),
    ])
    expect(ids(groups.withheld)).toEqual(['shelved', 'out'])
    expect(ids(groups.notices)).toEqual(['note'])
    expect(ids(groups.quiet)).toEqual(['idle'])
    expect(groups.listed).toEqual([])
  })

  it('shows a flood only while there is one', () => {
    const flood = alarm('alarm-flood', { kind: 'flood', entry: 'notice' })
    expect(groupAlarms([flood]).flood).toBeUndefined()
    expect(groupAlarms([{ ...flood, active: true, state: 'acknowledged' }]).flood?.id).toBe('alarm-flood')
    expect(groupAlarms([flood]).quiet).toEqual([])
  })
})
