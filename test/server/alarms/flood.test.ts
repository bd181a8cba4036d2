import { describe, expect, it } from 'vitest'
import { createFloodWatch } from '../../../server/alarms/flood.ts'
import { alarmBench } from '../../support/alarmBench.ts'

describe('createFloodWatch', () => {
  it('sees a flood at the 11th alarm of one every 30 s (test/reference/README.md, 12.3)', () => {
    const watch = createFloodWatch()
    const seen = Array.from({ length: 11 }, (_, i) => {
      watch.raised(i * 30_000, 1000 + i)
      return watch.stateAt(i * 30_000).since !== null
    })
    expect(seen.indexOf(true)).toBe(10)
    expect(watch.stateAt(300_000).since).toBe(1010)
  })

  it('lets it end when fewer than five are left in ten minutes', () => {
    const watch = createFloodWatch()
    for (let i = 0; i < 11; i++) watch.raised(i * 30_000, i)
    // the 5th-newest came at 180 s and leaves the window at 780 s
    expect(watch.stateAt(779_999)).toMatchObject({ count: 5, since: 10 })
    expect(watch.stateAt(780_000)).toEqual({ count: 4, since: null })
  })
})

describe('the board', () => {
  it('shows a flood as a notice among the alarms, once it changes', () => {
    const bench = alarmBench(`
  - { id: low, name: Low, kind: low, figure: activePower, limit: 5 kW, priority: low }`)
    bench.read('activePower', 9000)
    bench.tick(200)
    bench.board.takeChanged()
    for (let i = 0; i < 11; i++) {
      bench.read('activePower', 1000)
      bench.tick(200)
      bench.read('activePower', 9000)
      bench.tick(200)
    }
    expect(bench.alarm('alarm-flood')).toMatchObject({ active: true, detail: '11 alarms in the last 10 min' })
    expect(bench.board.takeChanged().map((view) => view.id)).toEqual(['low', 'alarm-flood'])
    expect(bench.board.takeChanged()).toEqual([])
  })
})
