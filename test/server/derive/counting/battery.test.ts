import { describe, expect, it } from 'vitest'
import { explainFigure } from '../../../../server/derive/explain.ts'
import { nodeOf } from '../../../../server/derive/plan.ts'
import { type CounterBench, counterBench, HOUR, MINUTE, SECOND } from '../../../support/counterBench.ts'
import { evaluatorBench } from '../../../support/evaluatorBench.ts'
import { plantOf } from '../../../support/plants.ts'

const START = Date.parse('2026-06-10T11:00:00Z')
const KWH = 3.6e6

/** A battery of 100 Ah, exactly where nothing else is said; the current instrument errs by up to 0.2 A. */
const battery = (more: string, instruments = '', charge = '100 A.h ± 0 %') =>
  plantOf(`
site: { timeZone: Europe/London }
battery: { ratedCharge: ${charge}, ratedVoltage: 25.6 V, chargeEfficiency: 0.98${more} }
instruments:
  - { id: u, role: batteryVoltage, topic: mill/u, unit: V, period: 10 s }
  - { id: i, role: batteryCurrent, topic: mill/i, unit: A, period: 10 s, accuracy: { absolute: 0.2 } }
${instruments}
`)
const anchored = battery(', fullVoltage: 27.6 V, tailCurrent: 2 A')

/** Constant voltage and current for some time, a sample every 10 s. Returns its end. */
function hold(
  bench: CounterBench,
  from: number,
  lasting: number,
  [voltage, current]: [number, number],
): number {
  for (let at = from; at < from + lasting; at += 10 * SECOND)
    bench.step(at, { batteryVoltage: voltage, batteryCurrent: current })
  return from + lasting
}

/** What is seen at an evaluation after the last sample. */
function seen(bench: CounterBench, at: number) {
  bench.step(at)
  return bench.view('stateOfCharge')
}

describe('the counted state of charge', () => {
  it('is blank before the first anchor and tells the change', () => {
    const bench = counterBench(anchored)
    const at = hold(bench, START, HOUR, [26, -10])
    expect(seen(bench, at)).toMatchObject({
      value: null,
      quality: 'bad',
      reasons: ['no anchor yet: only the change is known, −10.0 Ah'],
    })
  })

  it('is 100 % after ten minutes at full voltage and tail current, and not before', () => {
    const bench = counterBench(anchored)
    let at = hold(bench, START, 9 * MINUTE, [27.8, 1])
    expect(seen(bench, at).value).toBeNull()
    at = hold(bench, at, 2 * MINUTE, [27.8, 1])
    expect(seen(bench, at)).toMatchObject({ value: 1, quality: 'good', reasons: [] })
  })

  it.each([
    ['the voltage is below full', 27.4, 1],
    ['the current is above the tail', 27.8, 5],
  ])('finds no anchor while %s', (_, voltage, current) => {
    const bench = counterBench(anchored)
    const at = hold(bench, START, HOUR, [voltage, current])
    expect(seen(bench, at).value).toBeNull()
  })

  it('falls by what is taken out and rises by what goes in times the charge efficiency', () => {
    const bench = counterBench(anchored)
    let at = hold(bench, START, 20 * MINUTE, [27.8, 1])
    at = hold(bench, at, 4 * HOUR, [25, -10])
    // by hand: 40 of 100 Ah out
    expect(seen(bench, at).value).toBeCloseTo(0.6, 2)
    at = hold(bench, at, 2 * HOUR, [26, 10])
    // by hand: 20 Ah in, of which 98 % count
    expect(seen(bench, at).value).toBeCloseTo(0.796, 2)
  })

  it('is the less certain the longer the last anchor is ago', () => {
    const bench = counterBench(anchored)
    let at = hold(bench, START, 20 * MINUTE, [27.8, 1])
    at = hold(bench, at, HOUR, [25, -10])
    const first = seen(bench, at).u95!
    // JCGM 100 4.3.7: u(I) = 0.2 A / √3; over an hour 0.1155 Ah of 100 Ah, and 1.96 times that with 95 %
    expect(first).toBeCloseTo(1.96 * 0.1155 * 0.01, 4)
    at = hold(bench, at, HOUR, [25, -10])
    expect(seen(bench, at).u95! / first).toBeCloseTo(2, 1)
    at = hold(bench, at, 20 * MINUTE, [27.8, 1])
    expect(seen(bench, at).u95 ?? 0).toBeLessThan(first / 100)
  })

  it('is the less certain the farther it is from the anchor, where it is not known what the battery holds', () => {
    const plant = battery(', fullVoltage: 27.6 V, tailCurrent: 2 A', '', '100 A.h ± 10 %')
    const bench = counterBench(plant)
    let at = hold(bench, START, 20 * MINUTE, [27.8, 1])
    at = hold(bench, at, 4 * HOUR, [25, -10])
    // by hand: SoC = 1 − D/C, so ∂SoC/∂C · u(C) = (1 − SoC)·u(C)/C = 0.4 · 0.1/√3 = 0.02309; current 4 · 0.1155 Ah of 100
    expect(seen(bench, at).value).toBeCloseTo(0.6, 2)
    expect(seen(bench, at).u95!).toBeCloseTo(1.96 * Math.hypot((0.4 * 0.1) / Math.sqrt(3), 0.00462), 3)
  })

  it('counts from the start value of the plant file, uncertain until the first anchor', () => {
    const bench = counterBench(battery(', fullVoltage: 27.6 V, tailCurrent: 2 A, startCharge: 50 %'))
    const at = hold(bench, START, HOUR, [25, -10])
    expect(seen(bench, at)).toMatchObject({
      value: expect.closeTo(0.4, 2),
      quality: 'uncertain',
      reasons: ['counted from the start value in the plant file, no anchor yet'],
    })
    expect(seen(bench, hold(bench, at, 20 * MINUTE, [27.8, 1]))).toMatchObject({ value: 1, quality: 'good' })
  })

  it('goes on after a kill from what was saved, and says what was not counted', () => {
    const bench = counterBench(anchored)
    let at = hold(bench, START, 20 * MINUTE, [27.8, 1])
    at = hold(bench, at, HOUR, [25, -10])
    bench.counters.save()
    bench.kill()
    at = hold(bench, at + 5 * MINUTE, MINUTE, [25, 0])
    const { value, quality, reasons } = seen(bench, at)
    expect(value).toBeCloseTo(0.9, 2)
    expect([quality, ...reasons]).toEqual([
      'uncertain',
      '310 s of battery current were not counted since the anchor',
    ])
  })

  it('is blank again when more than an hour was not counted', () => {
    const bench = counterBench(anchored)
    let at = hold(bench, START, 20 * MINUTE, [27.8, 1])
    at = hold(bench, at + 2 * HOUR, 10 * MINUTE, [25, -10])
    const { value, reasons } = seen(bench, at)
    expect([value, ...reasons]).toEqual([
      null,
      expect.stringMatching(/^no anchor any more after a long gap: only the change is known/),
    ])
  })

  it('is blank while the current is not coming in', () => {
    const bench = counterBench(anchored)
    const at = hold(bench, START, 20 * MINUTE, [27.8, 1])
    expect(seen(bench, at + 10 * MINUTE)).toMatchObject({ value: null, quality: 'bad' })
  })

  it('is shown, not clamped, where it cannot be, with what to check', () => {
    const bench = counterBench(battery(', startCharge: 95 %'))
    const at = hold(bench, START, 2 * HOUR, [27, 10])
    const { value, reasons } = seen(bench, at)
    // by hand: 95 + 20 × 0.98 = 114.6 Ah of 100 Ah
    expect(value).toBeCloseTo(1.146, 2)
    expect(reasons.join()).toMatch(/impossible: check the zero of the battery current/)
  })

  it('names what it lacks, and explains itself', () => {
    const bench = counterBench(battery(''))
    expect(seen(bench, hold(bench, START, MINUTE, [25, -10])).reasons[0]).toMatch(
      /give battery.fullVoltage or battery.startCharge in the plant file$/,
    )
    const { plan, evaluator } = evaluatorBench(anchored)
    const reply = explainFigure(plan, evaluator, 'stateOfCharge')!
    expect(reply.figure.origin).toBe('counted')
    expect(reply.formula!.numbers).toBeNull()
    expect(reply.inputs.map((input) => input.figure.id)).toEqual(['batteryCurrent'])
    expect(reply.constants.map(({ path, value }) => [path, value])).toEqual([
      ['battery.ratedCharge', 360_000],
      ['battery.chargeEfficiency', 0.98],
    ])
  })

  it('is left to the instrument where the plant has one', () => {
    const measured = battery('', '  - { id: soc, role: stateOfCharge, topic: mill/soc, unit: "%" }')
    const { plan } = evaluatorBench(measured)
    expect(nodeOf(plan, 'stateOfCharge')!.kind).toBe('measured')
  })

  it('is missing, with what it needs, where the current is not measured', () => {
    const plant = plantOf(`
battery: { ratedCharge: 100 A.h, ratedVoltage: 25.6 V }
instruments: [{ id: u, role: batteryVoltage, topic: mill/u, unit: V }]
`)
    const { missing } = evaluatorBench(plant).plan
    expect(missing.find((one) => one.id === 'stateOfCharge')?.needs).toBe(
      'needs battery current (+ charging)',
    )
  })
})

describe('the counters of a battery', () => {
  const measured = battery(
    '',
    '  - { id: soc, role: stateOfCharge, topic: mill/soc, unit: "%", period: 10 s }',
  )

  /** An hour at this voltage and current while the state of charge goes evenly from one value to another. */
  function hour(
    bench: CounterBench,
    from: number,
    now: { u: number; i: number; soc: [number, number] },
  ): number {
    const [first, last] = now.soc
    for (let s = 0; s < 3600; s += 10)
      bench.step(from + s * SECOND, {
        batteryVoltage: now.u,
        batteryCurrent: now.i,
        stateOfCharge: first + ((last - first) * s) / 3600,
      })
    return from + HOUR
  }

  it('keep charge and energy in and out apart by the sign of the current', () => {
    const bench = counterBench(measured)
    let at = hour(bench, START, { u: 27, i: 20, soc: [0.5, 0.7] })
    at = hour(bench, at, { u: 25, i: -20, soc: [0.7, 0.5] })
    bench.step(at, { batteryVoltage: 25, batteryCurrent: -20, stateOfCharge: 0.5 })
    const value = (id: string) => bench.counter(id).value
    expect(value('batteryChargeIn') / 3600).toBeCloseTo(20, 0)
    expect(value('batteryChargeOut') / 3600).toBeCloseTo(20, 0)
    // by hand: 27 V × 20 A × 1 h and 25 V × 20 A × 1 h
    expect(value('batteryEnergyIn') / KWH).toBeCloseTo(0.54, 2)
    expect(value('batteryEnergyOut') / KWH).toBeCloseTo(0.5, 2)
  })

  it('give a round-trip efficiency only over a closed cycle of the state of charge', () => {
    const bench = counterBench(measured)
    let at = hour(bench, START, { u: 27, i: 20, soc: [0.5, 0.75] })
    expect(bench.index('batteryRoundTrip')).toMatchObject({
      since: null,
      needs: expect.stringMatching(/closed/),
    })
    at = hour(bench, at, { u: 25, i: -20, soc: [0.75, 0.5] })
    bench.step(at, { batteryVoltage: 25, batteryCurrent: -20, stateOfCharge: 0.5 })
    // by hand: 25 / 27 = 0.926
    expect(bench.index('batteryRoundTrip').since!.value).toBeCloseTo(0.926, 2)
    bench.counters.save()
    bench.kill()
    bench.step(at + MINUTE)
    expect(bench.index('batteryRoundTrip').since!.value).toBeCloseTo(0.926, 2)
  })

  it('give no round-trip efficiency for a shallow cycle', () => {
    const bench = counterBench(measured)
    let at = hour(bench, START, { u: 27, i: 10, soc: [0.5, 0.6] })
    at = hour(bench, at, { u: 25, i: -10, soc: [0.6, 0.5] })
    bench.step(at, { batteryVoltage: 25, batteryCurrent: 0, stateOfCharge: 0.5 })
    expect(bench.index('batteryRoundTrip').since).toBeNull()
  })
})
