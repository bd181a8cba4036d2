import { describe, expect, it } from 'vitest'
import { type AlarmBench, alarmBench, memoryJournal } from '../../../support/alarmBench.ts'

const GAUGE =
  '- { id: rack, role: rackDifferential, topic: mill/rack, unit: m, range: [0, 1], staleAfter: 3 s }'
const RACK = `
  - { id: blocked, name: Rack blocked, kind: highHigh, figure: rackDifferential, limit: 0.3 m, onDelay: 2 s, priority: medium }`
const LEVEL = `
  - { id: low, name: Rack low, kind: low, figure: rackDifferential, limit: 0.1 m, priority: low }`

function feed(bench: AlarmBench, value: number, more = {}): void {
  for (let i = 0; i < 25; i++) {
    bench.read('rackDifferential', value, more)
    bench.read('speed', 100)
    bench.tick(200)
  }
}
const ABOVE = { quality: 'bad', reasons: ['above range 1 m'] } as const
const raised = (bench: AlarmBench) => bench.journal.entries.map((one) => `${one.alarm} ${one.event}`)

describe('a gauge beyond its range', () => {
  it('on the side of the limit is the alarm, and no lost input; it says that it may be worse', () => {
    const bench = alarmBench(RACK, memoryJournal(), GAUGE)
    feed(bench, 0.1)
    feed(bench, 1.2, ABOVE)
    expect(raised(bench)).toEqual(['blocked raise'])
    expect(bench.alarm('blocked')).toMatchObject({
      active: true,
      unknown: false,
      quality: 'uncertain',
      peak: 1.2,
      detail: expect.stringContaining('it may be worse than this'),
    })
    feed(bench, 0.1)
    expect(raised(bench)).toEqual(['blocked raise', 'blocked return'])
    expect(bench.alarm('blocked').detail).toBeUndefined()
  })

  it('on the other side is a lost input', () => {
    const bench = alarmBench(LEVEL, memoryJournal(), GAUGE)
    feed(bench, 0.5)
    feed(bench, 1.2, ABOVE)
    expect(raised(bench)).toEqual(['input-lost-rackDifferential raise'])
    expect(bench.alarm('low').unknown).toBe(true)
  })

  it('that falls silent there is a lost input, and the alarm stays as it was', () => {
    const bench = alarmBench(RACK, memoryJournal(), GAUGE)
    feed(bench, 0.1)
    feed(bench, 1.2, ABOVE)
    for (let i = 0; i < 50; i++) {
      bench.read('speed', 100)
      bench.tick(200)
    }
    expect(raised(bench)).toEqual(['blocked raise', 'input-lost-rackDifferential raise'])
    expect(bench.alarm('blocked')).toMatchObject({ active: true, unknown: true })
  })
})
