import { describe, expect, it } from 'vitest'
import { QUARTER_MS, quarterOf } from '../../../../server/derive/counting/quarters.ts'
import { type CounterBench, counterBench } from '../../../support/counterBench.ts'
import { plantOf } from '../../../support/plants.ts'

const plant = plantOf(`
site: { timeZone: Europe/London }
generator: { kind: synchronous, polePairs: 2, ratedSpeed: 1500 /min, ratedPower: 20 kW }
turbine: { kind: turgo, ratedDischarge: 100 L/s }
instruments:
  - { id: power, role: activePower, topic: mill/power, unit: W, period: 10 s, accuracy: { reading: 1 % } }
  - { id: flow, role: discharge, topic: mill/flow, unit: L/s, period: 10 s }
  - { id: energy, role: energyMeter, topic: mill/energy, unit: kW.h, period: 60 s, accuracy: { reading: 0.5 % } }
`)
const STEP = 10_000
/** An hour and a half before midnight of the plant's day. */
const BEGIN = Date.parse('2026-06-10T21:30:00Z')
const END = BEGIN + 4 * 3_600_000
const COUNTERS = ['energyGenerated', 'waterVolume', 'runSeconds', 'starts']

/** Power that stands still for twelve minutes in every hour and otherwise moves about. */
function sampleAt(at: number): Record<string, number> {
  const seconds = (at - BEGIN) / 1000
  const power = seconds % 3600 < 720 ? 0 : 9000 + 3000 * Math.sin(seconds / 700)
  return { activePower: power, discharge: power / 2e5 }
}

/** Exact integral of the power above, by steps as they are sampled. */
function meterAt(at: number): number {
  let sum = 1e9
  for (let t = BEGIN; t < at; t += STEP)
    sum += ((sampleAt(t).activePower! + sampleAt(t + STEP).activePower!) / 2) * (STEP / 1000)
  return sum
}

const samples = Array.from({ length: (END - BEGIN) / STEP + 1 }, (_, i) => {
  const at = BEGIN + i * STEP
  const values = sampleAt(at)
  return { at, values: at % 60_000 === 0 ? { ...values, energyMeter: meterAt(at) } : values }
})

function run(bench: CounterBench, isThere: (at: number) => boolean, [from, to] = [BEGIN, END + STEP]): void {
  for (const { at, values } of samples) if (at >= from && at < to) bench.step(at, isThere(at) ? values : {})
}

function random(seed: number): () => number {
  let state = seed
  return () => {
    state = (state * 1_664_525 + 1_013_904_223) % 4_294_967_296
    return state / 4_294_967_296
  }
}

function totals(bench: CounterBench) {
  return COUNTERS.map((id) => {
    const { value, gapSeconds, days } = {
      ...bench.counter(id),
      days: bench.counters.days(id, { from: '2026-06-10', to: '2026-06-11' })!.days,
    }
    return { id, value, gapSeconds, days: days.map((day) => [day.value, day.gapSeconds] as const) }
  })
}

/** Counts whole quarters of the span anew, as much before and after as a meter needs. */
function countAnew(from: number, to: number) {
  const anew = counterBench(plant)
  run(anew, () => true, [from - 600_000, to + 120_000])
  return anew.counters.ended({ from, to })
}

/** Within the rounding of numbers of this size. */
function expectAlike(found: ReturnType<typeof totals>, expected: ReturnType<typeof totals>): void {
  for (const [i, one] of expected.entries()) {
    const { value, gapSeconds, days } = found[i]!
    expect(Math.abs(value - one.value), one.id).toBeLessThanOrEqual(1e-9 * Math.abs(one.value) + 1e-6)
    expect(gapSeconds, one.id).toBeCloseTo(one.gapSeconds, 2)
    for (const [n, [amount, gap]] of one.days.entries()) {
      expect(Math.abs(days[n]![0] - amount), one.id).toBeLessThanOrEqual(1e-9 * Math.abs(amount) + 1e-6)
      expect(days[n]![1], one.id).toBeCloseTo(gap, 2)
    }
  }
}

// By hand: power and discharge go up and down together, so energy per volume is 200 kJ/m³ at every moment.
describe('a ratio of a meter and an integral', () => {
  it('is over the time in which both are known, whatever the meter counted meanwhile', () => {
    const bench = counterBench(plant)
    run(bench, (at) => at < BEGIN + 3_000_000 || at > BEGIN + 7_000_000)
    const { value, unknownSeconds, quality } = bench.index('specificEnergy').since!
    expect(value! / 2e5).toBeCloseTo(1, 2)
    expect(unknownSeconds).toBeGreaterThanOrEqual(4000)
    expect(unknownSeconds).toBeLessThanOrEqual(4000 + 2 * 900)
    expect(quality).toBe('uncertain')
  })

  it('is not known where both are never known together', () => {
    const bench = counterBench(plant)
    run(bench, (at) => at < BEGIN + 20_000 || at > BEGIN + 600_000, [BEGIN, BEGIN + 800_000])
    const { value, reasons } = bench.index('specificEnergy').since!
    expect(value).toBeNull()
    expect(reasons).toContain('nothing is known of this time')
  })
})

// The expectation is the same run without an outage, whose counters are held against hand calculation elsewhere.
describe('quarters that are counted anew', () => {
  const whole = counterBench(plant)
  run(whole, () => true)
  whole.counters.save()
  const expected = totals(whole)

  it.each([1, 2, 3, 4, 5, 6, 7, 8])('make an outage as if it had not been, over midnight (%i)', (seed) => {
    const next = random(seed)
    const from = BEGIN + 3_600_000 * (0.3 + 2 * next())
    const to = Math.min(END - 1_200_000, from + 60_000 + 4_000_000 * next())
    const bench = counterBench(plant)
    run(bench, (at) => at < from || at > to)
    bench.counters.save()
    const [first, last] = [quarterOf(from - 60_000), quarterOf(to + 60_000) + QUARTER_MS]
    const anew = countAnew(first, last)
    expect(bench.counters.recount(anew, () => {})).toBe(true)
    expectAlike(totals(bench), expected)
    // once more, and after another start, it changes nothing
    bench.counters.recount(anew, () => {})
    expectAlike(totals(bench), expected)
    bench.kill()
    bench.step(END + STEP + 1)
    expectAlike(totals(bench), totals(whole))
  })

  it('go on from there where nothing has come since', () => {
    const [from, to] = [BEGIN + 3_600_000, BEGIN + 3 * 3_600_000]
    const bench = counterBench(plant)
    run(bench, () => true, [BEGIN, from])
    const last = samples.find(({ at }) => at === to)!
    const anew = counterBench(plant)
    run(anew, () => true, [from - QUARTER_MS - 600_000, to])
    bench.counters.recount(anew.counters.ended({ from: from - QUARTER_MS, to }), () => {})
    bench.step(last.at, last.values)
    run(bench, () => true, [to + STEP, END + STEP])
    const [energy] = totals(bench)
    expect(energy!.value).toBeCloseTo(expected[0]!.value, 0)
    expect(totals(bench)[1]!.gapSeconds).toBeLessThan(60)
  })

  it('stay as they were where the disk does not take them, and count once all the same', () => {
    const bench = counterBench(plant)
    run(bench, (at) => at < BEGIN + 3_600_000 || at > BEGIN + 5_000_000)
    bench.counters.save()
    const anew = countAnew(quarterOf(BEGIN + 3_000_000), quarterOf(BEGIN + 5_400_000) + QUARTER_MS)
    let marks = 0
    bench.store.failing = true
    expect(bench.counters.recount(anew, () => marks++)).toBe(false)
    bench.store.failing = false
    expect(marks).toBe(0)
    expect(bench.counters.recount(anew, () => marks++)).toBe(true)
    expect(marks).toBe(1)
    expectAlike(totals(bench), expected)
  })

  it('begin the count earlier where readings of before it began came in', () => {
    const begun = BEGIN + 2 * 3_600_000 + 100_000
    const bench = counterBench(plant)
    run(bench, () => true, [begun, END + STEP])
    const anew = counterBench(plant)
    run(anew, () => true, [BEGIN, quarterOf(begun) + QUARTER_MS + 120_000])
    bench.counters.recount(
      anew.counters.ended({ from: quarterOf(BEGIN), to: quarterOf(begun) + QUARTER_MS }),
      () => {},
    )
    expectAlike(totals(bench), expected)
  })
})
