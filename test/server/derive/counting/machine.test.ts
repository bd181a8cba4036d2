import { describe, expect, it } from 'vitest'
import { NOON, quickPlant, RATED_SPEED, runSteadily, slowPlant } from '../../../support/countedPlants.ts'
import { type CounterBench, counterBench, HOUR, SECOND } from '../../../support/counterBench.ts'
import { plantOf } from '../../../support/plants.ts'

const KWH = 3.6e6

describe('counters of a machine', () => {
  /** Seconds of running or standing. */
  function play(bench: CounterBench, from: number, seconds: number, share: number): number {
    const values = { activePower: 15_000 * share, speed: share > 0 ? RATED_SPEED : 0 }
    for (let i = 0; i < seconds; i++) bench.step(from + i * SECOND, values)
    return from + seconds * SECOND
  }

  it('count run time, time at part load and starts', () => {
    const bench = counterBench(quickPlant)
    let at = play(bench, NOON, 60, 0)
    at = play(bench, at, 600, 0.3)
    at = play(bench, at, 60, 0)
    at = play(bench, at, 300, 0.9)
    // by hand: 900 s of running of which 600 s below half load; a change counts for half its step of 1 s
    expect(bench.counter('runSeconds').value).toBeCloseTo(900, -1)
    expect(bench.counter('partLoadSeconds').value).toBeCloseTo(600, -1)
    expect(bench.counter('starts')).toMatchObject({ value: 2, unit: '1', source: 'counted' })
  })

  it('count no start for a flicker of power, nor for power at the edge of running', () => {
    const bench = counterBench(quickPlant)
    let at = play(bench, NOON, 60, 0)
    for (let i = 0; i < 20; i++) at = play(bench, play(bench, at, 3, 0.02), 3, 0.008)
    expect(bench.counter('starts').value).toBeLessThanOrEqual(1)
    at = play(bench, at, 30, 0)
    const before = bench.counter('starts').value
    for (let i = 0; i < 5; i++) at = play(bench, play(bench, at, 4, 0.5), 20, 0)
    expect(bench.counter('starts').value).toBe(before)
  })

  it('count no generation while the machine motors, but what it draws and for how long', () => {
    const bench = counterBench(
      plantOf(`
use: gridTied
generator: { kind: induction, polePairs: 2, ratedSpeed: 1515 /min, ratedPower: 15 kW }
instruments:
  - { id: power, role: activePower, topic: mill/power, unit: W }
  - { id: speed, role: speed, topic: mill/speed, unit: /min }
`),
    )
    // by hand: 600 s at −600 W are 360 kJ
    for (let i = 0; i <= 600; i++) bench.step(NOON + i * SECOND, { activePower: -600, speed: RATED_SPEED })
    const counted = [
      'energyGenerated',
      'energyExported',
      'energyImported',
      'runSeconds',
      'motoringSeconds',
      'starts',
    ]
    expect(counted.map((id) => bench.counter(id).value)).toEqual([0, 0, 360_000, 0, 600, 0])
    expect(bench.counter('energyGenerated')).toMatchObject({ gapSeconds: 0, quality: 'good' })
  })

  it('count no run time, but a gap, where speed and power cannot both be', () => {
    const bench = counterBench(quickPlant)
    // 25 Hz taken for 25 /min, beside 90 % of rated power
    for (let i = 0; i <= 600; i++)
      bench.step(NOON + i * SECOND, { activePower: 13_500, speed: RATED_SPEED / 60 })
    expect(bench.counter('runSeconds')).toMatchObject({ value: 0, gapSeconds: 600, quality: 'bad' })
    expect(bench.counter('starts').value).toBe(0)
  })

  it('count no start when the server comes back to a machine that runs', () => {
    const bench = counterBench(quickPlant)
    let at = play(bench, NOON, 60, 0)
    at = play(bench, at, 60, 0.5)
    bench.counters.save()
    bench.kill()
    play(bench, at + HOUR, 60, 0.5)
    expect(bench.counter('starts').value).toBe(1)
  })

  it('count trips by cause, and one forced stop however many switches trip', () => {
    const bench = counterBench(quickPlant)
    bench.step(NOON, { 'tripped.1': 0, 'tripped.2': 0 })
    for (let i = 1; i <= 20; i++) bench.step(NOON + i * SECOND)
    bench.step(NOON + 21 * SECOND, { 'tripped.1': 1 })
    bench.step(NOON + 22 * SECOND, { 'tripped.2': 1 })
    for (let i = 23; i <= 60; i++) bench.step(NOON + i * SECOND)
    bench.step(NOON + 61 * SECOND, { 'tripped.1': 0, 'tripped.2': 0 })
    for (let i = 62; i <= 100; i++) bench.step(NOON + i * SECOND)
    bench.step(NOON + 101 * SECOND, { 'tripped.2': 1 })
    const values = ['trips.1', 'trips.2', 'forcedStops'].map((id) => bench.counter(id).value)
    expect(values).toEqual([1, 2, 2])
    expect(bench.counter('trips.1').name).toBe('Trips: Over-speed switch')
    // by hand: tripped from 21 to 61 s
    expect(bench.counter('outageSeconds').value).toBeCloseTo(40, -0.5)
    expect(bench.counter('outageSeconds').gapSeconds).toBe(0)
  })

  it('see a trip that comes and goes between two ticks, and one that came while the server was down', () => {
    const bench = counterBench(quickPlant)
    bench.step(NOON, { 'tripped.1': 0 })
    const reading = {
      plant: 'mill',
      instrument: 'trip-1',
      quantity: 'tripped.1',
      quality: 'good' as const,
      reasons: [],
    }
    for (const [i, value] of [1, 0].entries())
      bench.counters.takeReading({ ...reading, value, measuredAt: NOON + 10 + i, receivedAt: NOON + 10 + i })
    for (let i = 1; i <= 20; i++) bench.step(NOON + i * SECOND)
    expect(bench.counter('trips.1').value).toBe(1)
    bench.counters.save()
    bench.kill()
    // a retained message without a time of its own
    bench.step(NOON + HOUR, { 'tripped.1': 1 }, { ageUnknown: true })
    bench.step(NOON + HOUR + SECOND)
    expect(bench.counter('trips.1').value).toBe(2)
  })

  it('count an over-speed with its peak, also where only the held peak of a reading shows it', () => {
    const bench = counterBench(quickPlant)
    for (let i = 0; i <= 20; i++) bench.step(NOON + i * SECOND, { speed: RATED_SPEED })
    bench.step(NOON + 21 * SECOND, { speed: 1.02 * RATED_SPEED }, { peak: 1.18 * RATED_SPEED })
    for (let i = 22; i <= 60; i++) bench.step(NOON + i * SECOND, { speed: RATED_SPEED })
    const { value, peak, today } = bench.counter('overSpeedEvents')
    expect(value).toBe(1)
    expect(peak).toEqual({ value: 1.18 * RATED_SPEED, unit: 'rad/s', at: NOON + 21 * SECOND })
    expect(today!.peak).toBeCloseTo(1.18 * RATED_SPEED, 9)
  })
})

describe('indices', () => {
  function steady(seconds: number, values: Record<string, number>): CounterBench {
    const bench = counterBench(quickPlant)
    bench.step(NOON, { 'tripped.1': 0, 'tripped.2': 0 })
    for (let i = 1; i <= seconds; i++) bench.step(NOON + i * SECOND, values)
    return bench
  }

  it('give 0.0941 kWh/m³ for 15 kW from 44.26 L/s, and the share of what the river allowed', () => {
    // 15 / (3600 × 0.04426) = 0.0941 kWh/m³, by hand
    const bench = steady(120, { activePower: 15_000, discharge: 0.04426, residualFlow: 0.012 })
    expect(bench.index('specificEnergy').since!.value! / KWH).toBeCloseTo(0.0941, 4)
    expect(bench.index('flowLimitedCapacityFactor').since!.value).toBeCloseTo(1, 3)
    // half the water left in the river although it might be taken: 22 of 44 L/s used, by hand 0.5
    const half = steady(120, { activePower: 7500, discharge: 0.022, residualFlow: 0.034 })
    expect(half.index('flowLimitedCapacityFactor').since!.value).toBeCloseTo(0.5, 3)
    expect(half.index('flowLimitedCapacityFactor').since!.quality).toBe('uncertain')
  })

  it('give availability and mean time between forced stops, and say when there was none', () => {
    const bench = steady(100, { activePower: 15_000, speed: RATED_SPEED })
    expect(bench.index('timeBetweenForcedStops').since).toMatchObject({
      value: null,
      reasons: ['no forced stop yet'],
    })
    for (let i = 101; i <= 200; i++)
      bench.step(NOON + i * SECOND, { 'tripped.1': 1, activePower: 0, speed: 0 })
    bench.step(NOON + 211 * SECOND)
    // by hand: about 100 of 211 s tripped, 100 s run, one stop
    expect(bench.index('availability').since!.value).toBeCloseTo(0.475, 1)
    expect(bench.index('timeBetweenForcedStops').since!.value).toBeCloseTo(100, -0.5)
  })

  it('count time of which nothing is known as standing still, and say what it was at most (by hand)', () => {
    const bench = counterBench(slowPlant)
    runSteadily(bench, [NOON, NOON + 2 * HOUR], 62.5e6)
    runSteadily(bench, [NOON + 4 * HOUR, NOON + 6 * HOUR], 62.5e6)
    const { value, most, unknownSeconds, quality } = bench.index('capacityFactor').since!
    // by hand: half of the rated power in four of six hours; at most all of it in the other two
    expect(value).toBeCloseTo(0.5 * (4 / 6), 4)
    expect(most).toBeCloseTo(0.5 * (4 / 6) + 2 / 6, 4)
    expect(unknownSeconds).toBeCloseTo(7200, 0)
    expect(quality).toBe('uncertain')
  })

  it('hide no outage behind a telemetry that is lost with the plant: unknown time counts as one (by hand)', () => {
    const bench = steady(100, { activePower: 15_000, 'tripped.1': 0 })
    bench.step(NOON + 100 * SECOND, { 'tripped.1': 1 })
    // nothing comes any more for 300 s, then it runs again
    for (let i = 400; i <= 500; i++) bench.step(NOON + i * SECOND, { activePower: 15_000, 'tripped.1': 0 })
    const { value, most, quality, reasons } = bench.index('availability').since!
    expect(value).toBeCloseTo(0.4, 1)
    expect(most).toBeCloseTo(1, 1)
    expect({ quality, reasons }).toEqual({ quality: 'uncertain', reasons: ['part of the time is not known'] })
  })

  it('say what they need at a plant that lacks it', () => {
    const bench = counterBench(slowPlant)
    bench.step(NOON, { activePower: 1 })
    expect(bench.index('flowLimitedCapacityFactor')).toMatchObject({
      needs: expect.stringMatching(/^needs .*residual flow/),
      since: null,
    })
    expect(bench.index('availability').needs).toBe('needs an instrument with role tripped.1')
  })
})
