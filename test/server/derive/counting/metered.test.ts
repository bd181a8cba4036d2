import { describe, expect, it } from 'vitest'
import { type CounterBench, counterBench, HOUR, MINUTE, SECOND } from '../../../support/counterBench.ts'
import { plantOf } from '../../../support/plants.ts'

const KWH = 3.6e6
const START = Date.parse('2026-06-10T00:00:00+01:00')

const PLANT = (meters: string) => `
site: { timeZone: Europe/London }
generator: { kind: synchronous, polePairs: 2, ratedSpeed: 1500 /min, ratedPower: 15 kW }
instruments:
  - { id: power, role: activePower, topic: mill/power, unit: W, period: 1 min }
  - { id: flow, role: discharge, topic: mill/flow, unit: L/s, period: 1 min }
${meters}
`
const METER =
  '  - { id: meter, role: energyMeter, topic: mill/energy, unit: kW.h, period: 1 min, range: [0, 99999.9], accuracy: { resolution: 0.1 } }'
const plain = plantOf(PLANT(''))
const metered = plantOf(PLANT(METER))
const watered = plantOf(
  PLANT('  - { id: water, role: waterMeter, topic: mill/water, unit: m3, period: 1 min }'),
)

/** A machine at 10 kW and its meter, which begins at `reading` [kWh] and counts `factor` times what is made. */
function run(
  bench: CounterBench,
  [from, to]: [number, number],
  { reading = 5000, factor = 1, base = from } = {},
): void {
  for (let at = from; at <= to; at += MINUTE) {
    const shown = reading + (factor * 10 * (at - base)) / HOUR
    bench.step(at, { activePower: 10_000, energyMeter: Math.floor(shown * 10 + 1e-6) * 0.1 * KWH })
  }
}

describe('the ± of a counter', () => {
  const stated = (power: string, meter: string) =>
    plantOf(
      PLANT(METER.replace('resolution: 0.1', meter)).replace(
        'topic: mill/power, unit: W,',
        `topic: mill/power, unit: W, range: [0, 20000], accuracy: { ${power} },`,
      ),
    )

  it('adds up as the error of the instrument stays, 0.95 of its limits for a rectangle (JCGM 100, 5.2.2, by hand)', () => {
    const bench = counterBench(plantOf(PLANT('').replace('unit: W,', 'unit: W, accuracy: { reading: 1 % },')))
    for (let at = START; at <= START + 2 * HOUR; at += MINUTE) bench.step(at, { activePower: 10_000 })
    // by hand: 10 kW for 2 h, ± 1 % limits, of which 95 % is 0.95 %
    const counter = bench.counter('energyGenerated')
    expect(counter.value / KWH).toBeCloseTo(20, 6)
    expect(counter.u95! / KWH).toBeCloseTo(0.19, 6)
    expect(counter.today!.u95).toBeCloseTo(counter.u95!, 6)
    expect(bench.counter('runSeconds').u95).toBeUndefined()
  })

  it('holds the truth of a meter that errs by all of its limit all the time, and grows with scatter no more', () => {
    const bench = counterBench(
      plantOf(PLANT('').replace('unit: W,', 'unit: W, accuracy: { reading: 1 %, distribution: normal },')),
    )
    let made = 0
    for (let at = START; at <= START + 6 * HOUR; at += MINUTE) {
      const power = 9000 + 1000 * Math.sin(at / 1e5)
      if (at > START) made += power * 60
      bench.step(at, { activePower: 1.0099 * power })
    }
    const { value, u95 } = bench.counter('energyGenerated')
    expect(Math.abs(value - made)).toBeLessThan(u95!)
    expect(u95! / value).toBeCloseTo(0.01, 3)
  })

  it('of a meter is that of its factor and one of its steps, and is not told where no accuracy is stated', () => {
    const bench = counterBench(stated('reading: 1 %', 'reading: 2 %, resolution: 0.1'))
    run(bench, [START, START + 4 * HOUR])
    // by hand: 40 kWh, ± 0.95 · 2 % and one step of 0.1 kWh
    const counter = bench.counter('energyGenerated')
    expect(counter.u95! / KWH).toBeCloseTo((0.95 * 0.02 * counter.value) / KWH + 0.1, 6)
    const untold = counterBench(metered)
    run(untold, [START, START + HOUR])
    expect(untold.counter('energyGenerated').u95).toBeUndefined()
    expect(untold.counter('waterVolume')?.u95).toBeUndefined()
  })

  it('adds nothing while nothing is counted', () => {
    const bench = counterBench(
      plantOf(PLANT('').replace('unit: W,', 'unit: W, range: [0, 20000], accuracy: { span: 1 % },')),
    )
    for (let at = START; at <= START + 2 * HOUR; at += MINUTE) bench.step(at, { activePower: 0 })
    for (let minute = 1; minute <= 3; minute++)
      bench.step(START + 2 * HOUR + minute * MINUTE, { activePower: 10_000 })
    // by hand: 1 % of 20 kW, 95 % of it, for the three minutes since something is made
    expect(bench.counter('energyGenerated').u95! / KWH).toBeCloseTo((0.95 * 0.2 * 3) / 60, 6)
  })
})

describe('a counter with a meter', () => {
  it('follows the meter and says so', () => {
    const bench = counterBench(metered)
    run(bench, [START, START + 24 * HOUR])
    const counter = bench.counter('energyGenerated')
    expect(counter).toMatchObject({ source: 'meter', quality: 'good', gapSeconds: 0, remarks: [] })
    expect(counter.value / KWH).toBeCloseTo(240, 1)
    expect(counter.check!.yesterday!).toBeCloseTo(0, 2)
  })

  it('is held against the integral of the live figure, with a remark beyond 2 % a day', () => {
    const bench = counterBench(metered)
    run(bench, [START, START + 24 * HOUR], { factor: 0.95 })
    const { check, remarks } = bench.counter('energyGenerated')
    // the integral is 1/0.95 − 1 = 5.26 % more than the meter, by hand
    expect(check!.yesterday).toBeCloseTo(0.0526, 3)
    expect(remarks).toEqual([expect.stringMatching(/^Yesterday the meter counted 5\.3 % less than/)])
  })

  it('is not compared before a hundred steps of the meter have passed', () => {
    const bench = counterBench(metered)
    run(bench, [START, START + HOUR / 2], { factor: 0.5 })
    expect(bench.counter('energyGenerated').check).toEqual({ today: null, yesterday: null })
  })

  it('is not compared within its first hour, in which a slow meter differs by when it began', () => {
    const bench = counterBench(plantOf(PLANT(METER.replace('resolution: 0.1', 'resolution: 0.001'))))
    run(bench, [START, START + 50 * MINUTE], { factor: 0.5 })
    expect(bench.counter('energyGenerated').check!.today).toBeNull()
    run(bench, [START + 51 * MINUTE, START + 70 * MINUTE], { factor: 0.5, base: START })
    expect(bench.counter('energyGenerated').check!.today).toBeCloseTo(1, 1)
  })

  it('counts what the meter counted while the server was down, once', () => {
    const bench = counterBench(metered)
    run(bench, [START, START + 2 * HOUR])
    bench.counters.save()
    run(bench, [START + 2 * HOUR + MINUTE, START + 3 * HOUR], { base: START })
    bench.kill()
    run(bench, [START + 8 * HOUR, START + 9 * HOUR], { base: START })
    const { value, gapSeconds } = bench.counter('energyGenerated')
    expect(value / KWH).toBeCloseTo(90, 1)
    expect(gapSeconds).toBe(0)
  })

  it('shares what came in over midnight by time, and calls the shares uncertain', () => {
    const bench = counterBench(metered)
    const midnight = START + 24 * HOUR
    run(bench, [midnight - HOUR, midnight - HOUR])
    run(bench, [midnight + 3 * HOUR, midnight + 3 * HOUR], { base: midnight - HOUR })
    const { days } = bench.counters.days('energyGenerated', { from: '2026-06-10', to: '2026-06-11' })!
    expect(days.map((one) => [one.value / KWH, one.uncertainSeconds])).toEqual([
      [expect.closeTo(10, 6), 3600],
      [expect.closeTo(30, 6), 3 * 3600],
    ])
  })

  it('goes on over a reset and tells of it', () => {
    const bench = counterBench(metered)
    run(bench, [START, START + HOUR])
    run(bench, [START + HOUR + MINUTE, START + 2 * HOUR], { reading: 0 })
    const { value, remarks } = bench.counter('energyGenerated')
    // 10 kWh, then 59 min at 10 kW; what was made in the minute of the reset is lost
    expect(value / KWH).toBeCloseTo(10 + (10 * 59) / 60, 1)
    expect(remarks).toEqual(['On 2026-06-10 the meter was reset to zero; it has counted on from there.'])
  })

  it('goes on from what was integrated when a meter is added, and back when it is taken away', () => {
    const bench = counterBench(plain)
    for (let at = START; at <= START + HOUR; at += MINUTE) bench.step(at, { activePower: 10_000 })
    bench.counters.save()
    const withMeter = counterBench(metered, bench.store)
    run(withMeter, [START + HOUR + MINUTE, START + 2 * HOUR])
    expect(withMeter.counter('energyGenerated').value / KWH).toBeCloseTo(10 + (10 * 59) / 60, 1)
    withMeter.counters.save()
    const without = counterBench(plain, bench.store)
    for (let at = START + 2 * HOUR + MINUTE; at <= START + 3 * HOUR; at += MINUTE)
      without.step(at, { activePower: 10_000 })
    without.counters.save()
    expect(without.counter('energyGenerated').source).toBe('integrated')
    const before = without.counter('energyGenerated').value
    // the meter is back and has counted on meanwhile: that hour is in the integral already
    const again = counterBench(metered, bench.store)
    run(again, [START + 3 * HOUR + MINUTE, START + 3 * HOUR + MINUTE], { reading: 5030 })
    expect(again.counter('energyGenerated').value).toBeCloseTo(before, 6)
  })

  it('begins with a reading after what was integrated, so that no time is counted by both', () => {
    const bench = counterBench(plain)
    for (let at = START; at <= START + HOUR; at += MINUTE) bench.step(at, { activePower: 10_000 })
    bench.counters.save()
    const withMeter = counterBench(metered, bench.store)
    // a reading of half an hour ago, then one of now: what lies between them is in the integral already
    const now = START + HOUR + 30 * SECOND
    withMeter.step(now, { energyMeter: 5000 * KWH }, { measuredAt: START + HOUR / 2 })
    withMeter.step(START + HOUR + MINUTE, { energyMeter: 5005.1 * KWH })
    withMeter.step(START + HOUR + 2 * MINUTE, { energyMeter: 5005.3 * KWH })
    expect(withMeter.counter('energyGenerated').value / KWH).toBeCloseTo(10.2, 6)
  })

  it('takes a water meter for the volume', () => {
    const bench = counterBench(watered)
    bench.step(START, { waterMeter: 100, discharge: 0.01 })
    bench.step(START + MINUTE, { waterMeter: 100.6, discharge: 0.01 })
    expect(bench.counter('waterVolume')).toMatchObject({ source: 'meter', value: expect.closeTo(0.6, 9) })
  })
})
