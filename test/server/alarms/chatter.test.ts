import { expect, it } from 'vitest'
import { alarmBench, perMinute } from '../../support/alarmBench.ts'

// Rules of the house, no outside source: a raise is never held back, and no input fills the journal.
it('is raised at once, and fills no journal where an over-speed comes and goes with every reading', () => {
  const bench = alarmBench(
    '  - { id: over, name: Over-speed, kind: overSpeed, figure: speed, limit: 1650 /min, priority: high }',
  )
  const steps = () => bench.journal.entries.filter(({ alarm }) => alarm === 'over').map(({ event }) => event)
  for (let i = 0; i < 3; i++) {
    bench.read('speed', perMinute(1800))
    expect(steps().at(-1)).toBe('raise')
    bench.read('speed', perMinute(1500))
    expect(steps().at(-1)).toBe('return')
  }
  for (let i = 0; i < 20_000; i++) {
    bench.read('speed', perMinute(i % 2 === 0 ? 1800 : 1500))
    if (i % 2 === 0) expect(bench.alarm('over').active).toBe(true)
    if (i % 1000 === 999) bench.tick(200)
  }
  expect(steps().length).toBeLessThan(150)
  bench.read('speed', perMinute(1500))
  bench.tick(1000)
  bench.tick(200)
  expect(bench.alarm('over').active).toBe(false)
  bench.read('speed', perMinute(1800))
  expect(steps().at(-1)).toBe('raise')
})
