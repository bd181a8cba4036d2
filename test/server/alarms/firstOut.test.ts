import { describe, expect, it } from 'vitest'
import { createFirstOut } from '../../../server/alarms/firstOut.ts'
import { alarmBench, perMinute } from '../../support/alarmBench.ts'

describe('createFirstOut', () => {
  it('lets those that come within a minute follow the first, and begins anew after that', () => {
    const firstOut = createFirstOut()
    expect(firstOut.raised('trip', 'a', 0).get('a')).toBeNull()
    expect(firstOut.raised('trip', 'b', 200).get('b')).toBe('a')
    expect(firstOut.raised('trip', 'c', 60_001).get('c')).toBeNull()
  })

  it('keeps groups apart', () => {
    const firstOut = createFirstOut()
    firstOut.raised('trip', 'a', 0)
    expect(firstOut.raised('rack', 'b', 1).get('b')).toBeNull()
  })

  it('goes by the times of measurement: what arrives late may have been first', () => {
    const firstOut = createFirstOut()
    firstOut.raised('trip', 'speed', 300)
    firstOut.raised('trip', 'voltage', 400)
    expect(Object.fromEntries(firstOut.raised('trip', 'grid', 100))).toEqual({
      grid: null,
      speed: 'grid',
      voltage: 'grid',
    })
  })
})

describe('the board', () => {
  it('marks what followed in the view and in the journal', () => {
    const bench = alarmBench(`
  - { id: over110, name: Over 110, kind: overSpeed, figure: speed, limit: 110 % of rated, priority: medium, group: trip }
  - { id: over120, name: Over 120, kind: overSpeed, figure: speed, limit: 120 % of rated, priority: high, group: trip }`)
    bench.read('speed', perMinute(1660))
    bench.tick(100)
    bench.read('speed', perMinute(1810))
    expect(bench.alarm('over110').after).toBeNull()
    expect(bench.alarm('over120').after).toBe('over110')
    expect(bench.journal.entries.map(({ alarm, after }) => [alarm, after])).toEqual([
      ['over110', undefined],
      ['over120', 'over110'],
    ])
  })
})
