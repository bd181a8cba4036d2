import { describe, expect, it } from 'vitest'
import { alarmPerformance } from '../../../server/alarms/performance.ts'
import type { JournalEntry, JournalEvent } from '../../../server/wire/alarm.ts'

const MINUTE = 60_000
const HOUR = 60 * MINUTE
const DAY = 24 * HOUR

const entry = (
  at: number,
  event: JournalEvent,
  alarm = 'a',
  more: Partial<JournalEntry> = {},
): JournalEntry => ({
  sequence: at,
  at,
  plant: 'mill',
  alarm,
  priority: 'low',
  entry: 'alarm',
  from: 'normal',
  to: 'normal',
  event,
  value: null,
  ...more,
})
const raisesAt = (times: number[], alarm = 'a') => times.map((at) => entry(at, 'raise', alarm))

describe('alarmPerformance', () => {
  it('finds 1.000 per ten minutes for 144 alarms in 24 h (test/reference/README.md, 12.3)', () => {
    const times = Array.from({ length: 144 }, (_, i) => i * 10 * MINUTE)
    const report = alarmPerformance(raisesAt(times), { from: 0, to: DAY })
    expect(report.averagePerTenMinutes).toBeCloseTo(1, 12)
    expect(report).toMatchObject({ raised: 144, mostInTenMinutes: 1, shareInFlood: 0, floods: [] })
  })

  it('finds one flood for eleven alarms at 0, 30, …, 300 s, until the fifth-newest is ten minutes old', () => {
    const times = Array.from({ length: 11 }, (_, i) => i * 30_000)
    const report = alarmPerformance(raisesAt(times), { from: 0, to: HOUR })
    expect(report.floods).toEqual([{ from: 300_000, to: 780_000, raised: 11 }])
    expect(report.shareInFlood).toBeCloseTo(480 / 3600, 12)
    expect(report.mostInTenMinutes).toBe(11)
  })

  it('takes about as long for a flood of thousands as for as many raises that are spread out', () => {
    const took = (spacing: number) => {
      const entries = raisesAt(Array.from({ length: 13_000 }, (_, i) => i * spacing))
      const began = performance.now()
      const report = alarmPerformance(entries, { from: 0, to: 13_000 * MINUTE })
      return { ms: performance.now() - began, report }
    }
    took(MINUTE)
    const spread = took(MINUTE)
    const dense = took(40)
    expect(dense.report.floods).toEqual([{ from: 400, to: 12_995 * 40 + 600_000, raised: 13_000 }])
    expect(dense.ms / spread.ms).toBeLessThan(20)
  })

  it('calls three raises within a minute chattering, and three in more than a minute not', () => {
    const report = alarmPerformance(
      [...raisesAt([0, 20_000, 59_999, 400_000]), ...raisesAt([0, 30_000, 60_000], 'b')],
      { from: 0, to: HOUR },
    )
    expect(report.chattering).toEqual([{ alarm: 'a', bursts: 1, mostInOneMinute: 3 }])
  })

  it('ranks the alarms and tells their shares', () => {
    const report = alarmPerformance([...raisesAt([0, 1, 2], 'b'), ...raisesAt([3])], { from: 0, to: HOUR })
    expect(report.topTen).toEqual([
      { alarm: 'b', raised: 3, share: 0.75 },
      { alarm: 'a', raised: 1, share: 0.25 },
    ])
  })

  it('finds what has been standing for more than 24 h, also from before the span', () => {
    const entries = [entry(0, 'raise'), entry(HOUR, 'raise', 'b'), entry(20 * HOUR, 'return', 'b')]
    const report = alarmPerformance(entries, { from: 20 * HOUR, to: 26 * HOUR })
    expect(report.standing).toEqual([{ alarm: 'a', since: 0, hours: 26 }])
    expect(report.raised).toBe(0)
  })

  it('measures from raise to acknowledgement; a second raise before it waits together with the first', () => {
    const report = alarmPerformance(
      [
        entry(0, 'raise'),
        entry(5000, 'return'),
        entry(8000, 'raise'),
        entry(30_000, 'acknowledge'),
        entry(0, 'raise', 'b'),
        entry(10_000, 'acknowledge', 'b'),
        entry(0, 'raise', 'c'),
      ],
      { from: 0, to: HOUR },
    )
    expect(report).toMatchObject({
      acknowledged: 2,
      medianAcknowledgeSeconds: 20,
      longestAcknowledgeSeconds: 30,
      neverAcknowledged: 1,
    })
  })

  it('leaves notices out', () => {
    const report = alarmPerformance([entry(0, 'raise', 'n', { entry: 'notice' })], { from: 0, to: HOUR })
    expect(report).toMatchObject({ raised: 0, topTen: [], medianAcknowledgeSeconds: null })
  })
})
