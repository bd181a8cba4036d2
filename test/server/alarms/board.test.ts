import { describe, expect, it } from 'vitest'
import { alarmBench, memoryJournal, perMinute } from '../../support/alarmBench.ts'
import { START } from '../../support/manualClock.ts'

const OVER_SPEED = `
  - { id: over, name: Over-speed, kind: overSpeed, figure: speed, limit: 110 % of rated, deadband: 3 % of rated, priority: high, latching: true }`
const POWER_LOW = `
  - { id: low, name: Power low, kind: low, figure: activePower, limit: 5 kW, deadband: 1 kW, onDelay: 2 s, priority: medium }`

describe('the over-speed path', () => {
  it('raises on the very reading, before any tick', () => {
    const bench = alarmBench(OVER_SPEED)
    bench.read('speed', perMinute(1651))
    expect(bench.transitions.map(({ entry }) => [entry.event, entry.to])).toEqual([
      ['raise', 'unacknowledged'],
    ])
  })

  it('raises on one single sample, without filter or delay', () => {
    const bench = alarmBench(OVER_SPEED)
    bench.read('speed', perMinute(1500))
    bench.read('speed', perMinute(1700))
    bench.read('speed', perMinute(1500))
    expect(bench.transitions.map(({ entry }) => entry.event)).toEqual(['raise', 'return'])
  })

  it('takes the peak that an instrument held, even when the value has come down again', () => {
    const bench = alarmBench(OVER_SPEED)
    bench.read('speed', perMinute(1500), { peak: perMinute(1770) })
    expect(bench.alarm('over').peak).toBeCloseTo(perMinute(1770), 6)
  })

  it('keeps the highest value as the peak while the speed falls', () => {
    const bench = alarmBench(OVER_SPEED)
    for (const n of [1660, 1770, 1700]) bench.read('speed', perMinute(n))
    expect(bench.alarm('over').peak).toBeCloseTo(perMinute(1770), 6)
  })

  it('stays raised inside the deadband', () => {
    const bench = alarmBench(OVER_SPEED)
    bench.read('speed', perMinute(1660))
    bench.read('speed', perMinute(1620))
    expect(bench.alarm('over').active).toBe(true)
    bench.read('speed', perMinute(1600))
    expect(bench.alarm('over').active).toBe(false)
  })

  it('raises nothing from a retained value of unknown age', () => {
    const bench = alarmBench(OVER_SPEED)
    bench.read('speed', perMinute(1800), { ageUnknown: true, quality: 'uncertain' })
    bench.tick(200)
    expect(bench.transitions).toEqual([])
  })

  it('raises nothing from a late reading that was measured more than a minute ago', () => {
    const bench = alarmBench(OVER_SPEED)
    bench.read('speed', perMinute(1500))
    bench.read('speed', perMinute(1800), { late: true, measuredAt: START - 60_001 })
    expect(bench.transitions).toEqual([])
  })

  it('raises on a late reading of this minute, says so, and is not cleared by one in its order', () => {
    const bench = alarmBench(OVER_SPEED)
    bench.read('speed', perMinute(1500))
    bench.read('speed', perMinute(1800), { late: true, measuredAt: START - 500 })
    bench.read('speed', perMinute(1500))
    expect(bench.alarm('over')).toMatchObject({
      active: true,
      detail: expect.stringContaining('out of order'),
    })
    // as long as a reading of this instrument counts: staleAfter 3 s
    bench.tick(2900)
    expect(bench.alarm('over').active).toBe(true)
    bench.tick(200)
    bench.read('speed', perMinute(1500))
    expect(bench.alarm('over').active).toBe(false)
  })

  it('shows the highest of what is heard, in its order or late', () => {
    const bench = alarmBench(OVER_SPEED)
    bench.read('speed', perMinute(1850))
    bench.read('speed', perMinute(1700), { late: true, measuredAt: START - 500 })
    expect(bench.alarm('over').quality).toBe('good')
    bench.read('speed', perMinute(1900), { late: true, measuredAt: START - 400 })
    expect(bench.alarm('over').peak).toBeCloseTo(perMinute(1900), 6)
    bench.read('speed', perMinute(1950))
    expect(bench.alarm('over').peak).toBeCloseTo(perMinute(1950), 6)
  })

  it('forgets late readings, with the deadband and the times at levels that they began', () => {
    const bench = alarmBench(`
  - { id: over, name: Over-speed, kind: overSpeed, figure: speed, levels: [{ limit: 120 % of rated, for: 0 s }, { limit: 105 % of rated, for: 10 s }], deadband: 3 % of rated, priority: high }`)
    bench.read('speed', perMinute(1500))
    bench.read('speed', perMinute(1600), { late: true, measuredAt: START - 500 })
    bench.tick(3_600_000)
    bench.read('speed', perMinute(1500))
    bench.read('speed', perMinute(1600), { late: true, measuredAt: START + 3_599_500 })
    expect(bench.transitions).toEqual([])
    bench.read('speed', perMinute(1850), { late: true, measuredAt: START + 3_599_600 })
    expect(bench.transitions).toHaveLength(1)
    bench.tick(3_600_000)
    bench.read('speed', perMinute(1500))
    const before = bench.transitions.length
    bench.read('speed', perMinute(1570), { late: true, measuredAt: START + 7_199_500 })
    expect(bench.transitions).toHaveLength(before)
  })

  it('takes nothing late for other kinds than over-speed', () => {
    const bench = alarmBench(
      '- { id: high, name: High, kind: high, figure: activePower, limit: 5 kW, priority: medium }',
    )
    bench.read('activePower', 9000, { late: true, measuredAt: START - 500 })
    bench.tick(200)
    expect(bench.transitions).toEqual([])
  })

  it('raises on a reading beyond the range of the instrument, and neither clears nor flickers on bad ones', () => {
    const bench = alarmBench(OVER_SPEED)
    bench.read('speed', perMinute(4600), { quality: 'bad', reasons: ['above range 4000'] })
    bench.tick(200)
    bench.read('speed', perMinute(4700), { quality: 'bad', reasons: ['above range 4000'] })
    bench.tick(200)
    bench.read('speed', -1, { quality: 'bad', reasons: ['broken line'] })
    bench.tick(200)
    expect(bench.alarm('over').active).toBe(true)
    expect(bench.alarm('over').unknown).toBe(true)
    expect(bench.journal.entries.map((entry) => entry.event)).toEqual(['raise'])
  })

  it('latches until it was acknowledged and reset', () => {
    const bench = alarmBench(OVER_SPEED)
    bench.read('speed', perMinute(1700))
    bench.read('speed', perMinute(1500))
    const who = { by: 'test', at: 1 }
    expect(bench.board.act('over', { event: 'reset' }, who)?.state).toBe('latchedUnacknowledged')
    expect(bench.board.act('over', { event: 'acknowledge' }, who)?.state).toBe('latchedAcknowledged')
    expect(bench.board.act('over', { event: 'reset' }, who)?.state).toBe('normal')
  })
})

describe('createAlarmBoard', () => {
  it('raises a low alarm after its on-delay and returns above limit and deadband', () => {
    const bench = alarmBench(POWER_LOW)
    bench.read('activePower', 4000)
    bench.tick(200)
    bench.tick(1900)
    expect(bench.alarm('low').active).toBe(false)
    bench.read('activePower', 4000)
    bench.tick(200)
    expect(bench.alarm('low').active).toBe(true)
    bench.read('activePower', 5900)
    bench.tick(200)
    expect(bench.alarm('low').active).toBe(true)
    bench.read('activePower', 6100)
    bench.tick(200)
    expect(bench.alarm('low').state).toBe('returnedUnacknowledged')
  })

  it('says unknown, not normal, when the input goes stale, and raises an alarm of its own for that', () => {
    const bench = alarmBench(POWER_LOW)
    bench.read('activePower', 9000)
    for (let i = 0; i < 20; i++) {
      bench.tick(200)
      bench.read('speed', perMinute(1500))
    }
    expect(bench.alarm('low')).toMatchObject({ state: 'normal', unknown: true, quality: 'bad' })
    expect(bench.journal.entries.map(({ alarm, event }) => [alarm, event])).toEqual([
      ['input-lost-activePower', 'raise'],
    ])
    bench.board.act('input-lost-activePower', { event: 'acknowledge' }, { by: 'Ada', at: 1 })
    bench.read('activePower', 9000)
    for (let i = 0; i < 30; i++) {
      bench.tick(200)
      bench.read('activePower', 9000)
    }
    expect(bench.alarm('low').unknown).toBe(false)
    expect(bench.alarm('input-lost-activePower').state).toBe('normal')
  })

  it('raises one alarm, not one per input, when the whole plant falls silent', () => {
    const bench = alarmBench(POWER_LOW)
    bench.read('activePower', 9000)
    bench.read('speed', perMinute(1500))
    for (let i = 0; i < 310; i++) bench.tick(200)
    expect(bench.alarm('low').unknown).toBe(true)
    expect(bench.journal.entries.map((entry) => entry.alarm)).toEqual(['telemetry-silent'])
  })

  it('keeps an over-speed alarm raised when the tachometer dies', () => {
    const bench = alarmBench(OVER_SPEED)
    bench.read('speed', perMinute(1800))
    bench.tick(10_000)
    expect(bench.alarm('over')).toMatchObject({ active: true, unknown: true })
  })

  it('changes nothing and journals nothing when an acknowledgement is repeated', () => {
    const bench = alarmBench(OVER_SPEED)
    bench.read('speed', perMinute(1700))
    const who = { by: 'test', at: 1 }
    bench.board.act('over', { event: 'acknowledge' }, who)
    const before = bench.journal.entries.length
    expect(bench.board.act('over', { event: 'acknowledge' }, who)?.state).toBe('acknowledged')
    expect(bench.journal.entries.length).toBe(before)
  })

  it('remembers state, peak and acknowledgement across a restart', () => {
    const journal = memoryJournal()
    const first = alarmBench(OVER_SPEED, journal)
    first.read('speed', perMinute(1770))
    first.board.act('over', { event: 'acknowledge' }, { by: 'Ada', at: 5 })
    const second = alarmBench(OVER_SPEED, journal)
    expect(second.alarm('over')).toMatchObject({ state: 'acknowledged', acknowledgedBy: 'Ada', active: true })
    expect(second.alarm('over').peak).toBeCloseTo(perMinute(1770), 6)
  })

  it('hands out each change once', () => {
    const bench = alarmBench(OVER_SPEED)
    bench.board.takeChanged()
    bench.read('speed', perMinute(1700))
    expect(bench.board.takeChanged().map((alarm) => alarm.id)).toEqual(['over'])
    expect(bench.board.takeChanged()).toEqual([])
  })
})
