import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import { NOON, quickPlant, runSteadily, slowPlant } from '../../../support/countedPlants.ts'
import { type CounterBench, counterBench, HOUR, SECOND } from '../../../support/counterBench.ts'

const KWH = 3.6e6

const day = (bench: CounterBench, date: string, id = 'energyGenerated') =>
  bench.counters.days(id, { from: date, to: date })!.days[0]!

describe('counters by local day', () => {
  // Worked example "Power plant engineering" 1.4 and 1.5: 20 MW 5 h, 40 MW 4 h, 80 MW 9 h, 100 MW 4 h, 20 MW 2 h give
  // 1420 MWh; with 125 MW installed the capacity factor is 0.473333 (the load factor 0.591667, which the printed
  // solution gives as the mean of 59.17 MW, is another thing).
  it('give 1420 MWh and a capacity factor of 0.4733 for the worked example of a day', () => {
    const bench = counterBench(slowPlant)
    const start = Date.parse('2026-06-10T00:00:00+01:00')
    let at = start
    for (const [megawatts, hours] of [
      [20, 5],
      [40, 4],
      [80, 9],
      [100, 4],
      [20, 2],
    ] as const) {
      runSteadily(bench, [at, at + hours * HOUR - 1], megawatts * 1e6)
      at += hours * HOUR
    }
    bench.step(at, { activePower: 20e6 })
    expect(day(bench, '2026-06-10').value / (1000 * KWH)).toBeCloseTo(1420, 3)
    expect(bench.counter('energyGenerated').yesterday!.value / (1000 * KWH)).toBeCloseTo(1420, 3)
    expect(bench.index('capacityFactor').thisMonth!.value).toBeCloseTo(0.473333, 5)
  })

  // 29 March and 25 October 2026 have 23 and 25 hours in the United Kingdom (IANA tz database)
  it.each([
    ['2026-03-29', '2026-03-29T00:00:00Z', 23],
    ['2026-10-25', '2026-10-24T23:00:00Z', 25],
  ])('give the %s, when the clocks change, 10 kW times its own hours', (date, begin, hours) => {
    const bench = counterBench(slowPlant)
    const start = Date.parse(begin)
    runSteadily(bench, [start - HOUR, start + (hours + 1) * HOUR], 10_000)
    expect(day(bench, date).value / KWH).toBeCloseTo(10 * hours, 6)
    expect(day(bench, date).to - day(bench, date).from).toBe(hours * HOUR)
    expect(bench.counter('energyGenerated').value / KWH).toBeCloseTo(10 * (hours + 2), 6)
  })

  it('split a step at midnight along its straight line', () => {
    const bench = counterBench(quickPlant)
    const midnight = Date.parse('2026-06-10T23:00:00Z')
    bench.step(midnight - 2 * SECOND, { activePower: 0 })
    bench.step(midnight + 2 * SECOND, { activePower: 4000 })
    // by hand: 0 → 2 kW over 2 s are 2 kJ, 2 → 4 kW over 2 s are 6 kJ
    expect(day(bench, '2026-06-10').value).toBeCloseTo(2000, 6)
    expect(day(bench, '2026-06-11').value).toBeCloseTo(6000, 6)
  })

  it('know a day that was missed altogether, and a silence that goes on', () => {
    const bench = counterBench(slowPlant)
    const start = Date.parse('2026-06-10T00:00:00+01:00')
    runSteadily(bench, [start, start + 12 * HOUR], 10_000)
    runSteadily(bench, [start + 66 * HOUR, start + 68 * HOUR], 10_000)
    bench.step(start + 72 * HOUR)
    const days = bench.counters.days('energyGenerated', { from: '2026-06-01', to: '2026-06-30' })!.days
    expect(days.map(({ date, gapSeconds }) => [date, gapSeconds / 3600])).toEqual([
      ['2026-06-10', expect.closeTo(12, 6)],
      ['2026-06-11', 24],
      ['2026-06-12', expect.closeTo(22, 6)],
      ['2026-06-13', 0],
    ])
    expect(bench.counter('energyGenerated').gapSeconds / 3600).toBeCloseTo(58, 6)
  })

  it('say nothing of days before counting began', () => {
    const bench = counterBench(slowPlant)
    runSteadily(bench, [NOON, NOON + HOUR], 10_000)
    expect(bench.counter('energyGenerated')).toMatchObject({ yesterday: null, today: { from: NOON } })
    expect(bench.counters.days('energyGenerated', { from: '2020-01-01', to: '2026-06-09' })!.days).toEqual([])
  })

  const sample = fc.record({
    step: fc.oneof(
      fc.integer({ min: 1, max: 4000 }),
      fc.integer({ min: 4000, max: 100_000 }),
      fc.integer({ min: 1e6, max: 2e8 }),
    ),
    power: fc.integer({ min: 0, max: 15_000 }),
  })

  it('add up to the total, gaps too, however the samples lie', () => {
    fc.assert(
      fc.property(fc.array(sample, { minLength: 1, maxLength: 25 }), (samples) => {
        const bench = counterBench(quickPlant)
        let at = NOON
        bench.step(at)
        for (const { step, power } of samples) {
          at += step
          bench.step(at, { activePower: power })
        }
        const { value, gapSeconds, uncertainSeconds } = bench.counter('energyGenerated')
        const { days } = bench.counters.days('energyGenerated', { from: '2026-01-01', to: '2036-01-01' })!
        const sum = (of: 'value' | 'gapSeconds' | 'uncertainSeconds') =>
          days.reduce((s, one) => s + one[of], 0)
        expect(sum('value')).toBeCloseTo(value, 3)
        expect(sum('gapSeconds')).toBeCloseTo(gapSeconds, 6)
        expect(sum('uncertainSeconds')).toBeCloseTo(uncertainSeconds, 6)
      }),
      { seed: 20261125, numRuns: 40 },
    )
  })

  const action = fc.oneof(
    { weight: 6, arbitrary: sample.map((one) => ({ ...one, does: 'sample' as const })) },
    { weight: 2, arbitrary: fc.constant({ does: 'save' as const }) },
    { weight: 1, arbitrary: fc.constant({ does: 'kill' as const }) },
  )

  it('lose with a kill just what was not saved, and count nothing twice when samples come again', () => {
    fc.assert(
      fc.property(fc.array(action, { maxLength: 40 }), (actions) => {
        const bench = counterBench(quickPlant)
        let at = NOON
        const kept: [number, number][] = []
        let saved = 0
        bench.step(at)
        bench.counters.save()
        for (const one of actions) {
          if (one.does === 'sample') {
            at += one.step
            kept.push([at, one.power])
            bench.step(at, { activePower: one.power })
          } else if (one.does === 'save') {
            bench.counters.save()
            saved = kept.length
          } else {
            bench.kill()
            // the broker sends what it has once more: nothing of it is newer than what was saved
            for (const [measuredAt, power] of kept.slice(0, saved))
              bench.step(at, { activePower: power }, { measuredAt })
            kept.length = saved
          }
        }
        const once = counterBench(quickPlant)
        once.step(NOON)
        for (const [time, power] of kept) once.step(time, { activePower: power })
        once.step(at)
        bench.step(at)
        const { value } = bench.counter('energyGenerated')
        expect(value).toBeCloseTo(once.counter('energyGenerated').value, 3)
        expect(value).toBeLessThanOrEqual((15_000 * (at - NOON)) / 1000)
        const span = { from: '2026-01-01', to: '2036-01-01' }
        const { days } = bench.counters.days('energyGenerated', span)!
        expect(days.reduce((sum, one) => sum + one.value, 0)).toBeCloseTo(value, 3)
      }),
      { seed: 20261125, numRuns: 40 },
    )
  })

  it('wait in memory while the disk refuses, and are stored whole afterwards', () => {
    const bench = counterBench(slowPlant)
    const start = Date.parse('2026-06-10T00:00:00+01:00')
    bench.store.failing = true
    runSteadily(bench, [start, start + 30 * HOUR], 10_000)
    expect(bench.counters.save()).toBe(false)
    bench.store.failing = false
    expect(bench.counters.save()).toBe(true)
    bench.kill()
    bench.step(start + 30 * HOUR)
    expect(day(bench, '2026-06-10').value / KWH).toBeCloseTo(240, 6)
    expect(day(bench, '2026-06-11').value / KWH).toBeCloseTo(60, 6)
  })

  it('go on when the clock was set back, without counting backwards', () => {
    const bench = counterBench(quickPlant)
    for (let i = 0; i <= 10; i++) bench.step(NOON + i * SECOND, { activePower: 1000 })
    const before = bench.counter('energyGenerated').value
    for (let i = 0; i <= 10; i++) bench.step(NOON - HOUR + i * SECOND, { activePower: 1000 })
    expect(bench.counter('energyGenerated').value).toBeGreaterThan(before + 8000)
  })
})
