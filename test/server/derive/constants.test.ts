import { describe, expect, it } from 'vitest'
import { ASSUMED, orificeUncertainty } from '../../../server/derive/assumedErrors.ts'
import { createEvaluator } from '../../../server/derive/evaluate.ts'
import { explainFigure } from '../../../server/derive/explain.ts'
import { nodeOf, planFigures } from '../../../server/derive/plan.ts'
import { constantPaths } from '../../../server/plant/constants.ts'
import { CURVE_PATHS } from '../../../server/plant/plusMinus.ts'
import { figureBench } from '../../support/figureBench.ts'
import { START } from '../../support/manualClock.ts'
import { plantOf } from '../../support/plants.ts'

/** A plant with these sections and exact instruments but for a hair, so that nearly all that is left is the constants. */
function live(sections: string, readings: Record<string, [value: number, unit: string]>) {
  const instruments = Object.entries(readings).map(
    ([role, [, unit]]) =>
      `  - { id: i-${role.replace('.', '-')}, role: ${role}, topic: t/${role}, unit: "${unit}", accuracy: { absolute: 1e-12 } }`,
  )
  const plant = plantOf(
    ['headrace: 1', 'id: bench', 'name: Bench', 'use: rig', sections, 'instruments:', ...instruments].join(
      '\n',
    ),
  )
  const plan = planFigures(plant)
  const evaluator = createEvaluator(plan)
  evaluator.setConnected(true)
  for (const [role, [value]] of Object.entries(readings))
    evaluator.take({
      plant: 'bench',
      instrument: `i-${role.replace('.', '-')}`,
      quantity: role,
      value,
      measuredAt: START,
      receivedAt: START,
      quality: 'good',
      reasons: [],
    })
  evaluator.evaluate(START)
  const indexOf = (id: string) => nodeOf(plan, id)!.index
  return {
    value: (id: string) => evaluator.value(indexOf(id)),
    u95: (id: string) => evaluator.view(indexOf(id)).u95 ?? 0,
    shares: (id: string) => explainFigure(plan, evaluator, id)!.uncertaintyShares,
    explain: (id: string) => explainFigure(plan, evaluator, id)!,
    /** Relative standard uncertainty. */
    relative(id: string) {
      const index = indexOf(id)
      return Math.hypot(...evaluator.constantParts(index)) / Math.abs(evaluator.value(index))
    },
  }
}

const NORMAL = 1.959964
const FLAT = Math.sqrt(3)
const PLACE = 'site: { timeZone: Etc/UTC, gravity: 9.81 m/s2 ± 0 %, waterDensity: 999.7 kg/m3 ± 0 % }'

describe('the nozzle law', () => {
  it.each([
    ['all', 'turbine: 100 m, inletGauge: 100.5 m', 'inletBore: 200 mm'],
    ['no bore at the gauge', 'turbine: 100 m, inletGauge: 100.5 m', ''],
    ['no elevations', '', 'inletBore: 200 mm'],
    ['neither', '', ''],
  ])('is one in discharge and in the flow of clean nozzles, with %s given', (_, elevations, bore) => {
    const bench = live(
      `site: { timeZone: Etc/UTC, gravity: 9.81 m/s2, waterDensity: 1000 kg/m3${elevations && `, elevations: { ${elevations} }`} }
turbine: { kind: turgo, jets: 2, nozzleBore: 32 mm, nozzleCoefficient: 0.94${bore && `, ${bore}`} }`,
      { inletPressure: [4.7e5, 'Pa'], 'jetOpen.1': [1, '1'], 'jetOpen.2': [1, '1'] },
    )
    // by hand, without heights and velocity: 2 · 0.94 · π/4 · 0.032² · √(2 · 470) = 0.046357 m³/s
    expect(bench.value('discharge')).toBeGreaterThan(0.04635)
    expect(bench.value('discharge') / bench.value('nozzleFlow')).toBeCloseTo(1, 12)
  })
})

describe('constants as sources of uncertainty', () => {
  it('make that of an orifice as the working formula of ISO 5167-1 does', () => {
    const bench = live(
      `site: { timeZone: Etc/UTC, gravity: 9.81 m/s2 ± 0 %, waterDensity: 998.2 kg/m3 ± 0.5 %, waterTemperature: 20 Cel ± 0 K }
orifice: { bore: 60 mm, pipeBore: 100 mm }`,
      { meterPressureDifference: [25_000, 'Pa'] },
    )
    // ISO 5167-1:2003, 8.2.2.1, ε = 1, Δp exact: (δq/q)² = δC² + (2β⁴/(1−β⁴))²·δD² + (2/(1−β⁴))²·δd² + ¼·δρ²; β = 0.6,
    // and by ISO 5167-2:2003, 5.3.3.1 δC = 0.5 %. The formula leaves out that C itself moves with β.
    const b4 = 0.6 ** 4
    const c = 0.005 / NORMAL
    const pipe = ((2 * b4) / (1 - b4)) * (0.004 / NORMAL)
    const bore = (2 / (1 - b4)) * (0.0007 / NORMAL)
    const density = 0.5 * (0.005 / FLAT)
    expect(bench.relative('meterFlow') / Math.hypot(c, pipe, bore, density)).toBeCloseTo(1, 1)
  })

  it.each([
    [0.15, 0.1, 0.0055],
    [0.6, 0.1, 0.005],
    [0.7, 0.1, 0.006669],
    // 0.9·(0.75 − 0.5)·(2.8 − 50/25.4) = 0.1871 % on top
    [0.5, 0.05, 0.006871],
  ])(
    'take the coefficient of an orifice with β = %d in a pipe of %d m as ISO 5167-2 says',
    (beta, bore, share) => {
      expect(orificeUncertainty(beta, bore)).toBeCloseTo(share, 6)
    },
  )

  it('make that of a rectangular weir as ISO 1438 does', () => {
    const bench = live(
      `${PLACE}\nweir: { crestHeight: 0.3 m ± 0 %, crestWidth: 0.6 m ± 2 mm, channelWidth: 0.6 m ± 2 mm, measures: residualFlow }`,
      { weirHead: [0.12, 'm'] },
    )
    // ISO 1438, u(Q)² = u(C)² + u(b)² + (1.5·u(h))² (from memory), the head exact: 1.5 % of C with 95 %, 2 mm of 0.6 m
    expect(bench.relative('weirFlow')).toBeCloseTo(Math.hypot(0.015 / NORMAL, 0.002 / 0.6 / FLAT), 3)
    expect(bench.shares('residualFlow').map(({ source }) => source)).toContain('weir.calibrationFactor')
  })

  it('are one error in all figures that use them, so that a ratio of two of these has none of it', () => {
    const bench = live(
      `${PLACE}
turbine: { kind: turgo, driveEfficiency: 0.9 ± 0.05 }
figures:
  - { id: a, name: A, formula: x * eta, inputs: { x: activePower }, constants: { eta: turbine.driveEfficiency }, unit: W }
  - { id: b, name: B, formula: y * eta, inputs: { y: loadPower }, constants: { eta: turbine.driveEfficiency }, unit: W }
  - { id: r, name: R, formula: a / b, inputs: { a: a, b: b }, unit: "1" }
  - { id: s, name: S, formula: a + b, inputs: { a: a, b: b }, unit: W }`,
      { activePower: [100, 'W'], loadPower: [50, 'W'] },
    )
    // by hand: u(eta)/eta = 0.05/√3/0.9; of a sum of two it is the same share, not that over √2
    expect(bench.relative('a')).toBeCloseTo(0.05 / FLAT / 0.9, 9)
    expect(bench.relative('s')).toBeCloseTo(0.05 / FLAT / 0.9, 9)
    // what is left is of second order, (u/eta)³
    expect(bench.relative('r')).toBeLessThan(1e-4)
  })

  it('that share a calibration err together', () => {
    const heights = (more: string) =>
      `site: { timeZone: Etc/UTC, gravity: 9.81 m/s2, waterDensity: 1000 kg/m3, elevations: { turbine: { value: 100 m, plusMinus: 3 cm${more} }, headwaterZero: { value: 120 m, plusMinus: 3 cm${more} } } }
turbine: { kind: pelton }`
    const alone = live(heights(''), { headwaterLevel: [1, 'm'] })
    // JCGM 100 F.1.2.3: what both have in common drops out of a difference
    expect(alone.u95('grossHead')).toBeCloseTo(1.9019 * Math.hypot(0.03 / FLAT, 0.03 / FLAT), 4)
    expect(
      live(heights(', calibration: survey'), { headwaterLevel: [1, 'm'] }).u95('grossHead'),
    ).toBeLessThan(1e-9)
  })

  it.each([
    ['efficiencyCurve: { points: [[0, 0.8], [1, 0.9]], plusMinus: 0.01 }', 0.01 / 0.85],
    ['efficiencyCurve: { points: [[0, 0.8], [1, 0.9]], plusMinus: 1 % }', 0.01],
    // IEC 60034-1 (from memory): tolerance of 15 % of the losses up to 150 kW
    ['efficiencyCurve: [[0, 0.8], [1, 0.9]]', (0.15 * 0.15) / 0.85],
  ])('move a curve: generator with %s', (curve, share) => {
    const bench = live(`${PLACE}\ngenerator: { kind: synchronous, ratedPower: 10 kW, ${curve} }`, {
      activePower: [5000, 'W'],
    })
    expect(bench.value('shaftPower')).toBeCloseTo(5000 / 0.85, 6)
    expect(bench.relative('shaftPower')).toBeCloseTo(share / FLAT, 4)
    expect(bench.shares('shaftPower')[0]).toMatchObject({
      kind: 'constant',
      source: 'generator.efficiencyCurve',
    })
  })

  it('may be amounts of an own figure', () => {
    const bench = live(
      `${PLACE}
figures:
  - { id: heat, name: Heat, formula: V * c, inputs: { V: discharge }, constants: { c: 4.2e6 J/m3 ± 2 % }, unit: W }
  - { id: rise, name: Rise, formula: V * c, inputs: { V: discharge }, constants: { c: 4e6 J/m3 ± 1e5 J/m3 }, unit: W }`,
      { discharge: [1, 'm3/s'] },
    )
    expect(bench.relative('heat')).toBeCloseTo(0.02 / FLAT, 9)
    expect(bench.relative('rise')).toBeCloseTo(0.1 / 4 / FLAT, 9)
    expect(bench.shares('heat')[0]).toEqual({
      kind: 'constant',
      source: 'figures[0].constants.c',
      name: 'figures[0].constants.c',
      share: expect.closeTo(1, 6),
    })
  })

  it('are named in the explanation with what was assumed and by what', () => {
    const bench = live(
      `${PLACE}\nturbine: { kind: pelton, jets: 1, nozzleBore: 32 mm ± 0.1 mm, nozzleCoefficient: 0.94 }`,
      {
        inletPressure: [1e6, 'Pa'],
        'jetOpen.1': [1, '1'],
      },
    )
    const { constants } = bench.explain('discharge')
    expect(constants).toContainEqual({
      symbol: 'd',
      path: 'turbine.nozzleBore',
      value: 0.032,
      unit: 'm',
      plusMinus: '± 0.0001 m',
    })
    expect(bench.shares('discharge')[0]).toMatchObject({
      source: 'turbine.nozzleCoefficient',
      assumed: 'common practice, no source',
    })
  })

  it('do not give readings that are said to be exact a ± of their own', () => {
    const plant = plantOf(`headrace: 1\nid: b\nname: B\nuse: rig\n${PLACE}\nturbine: { kind: pelton }
instruments:
  - { id: p, role: inletPressure, topic: t/p, unit: Pa, accuracy: { absolute: 0 } }`)
    const plan = planFigures(plant)
    const evaluator = createEvaluator(plan)
    evaluator.take({
      plant: 'b',
      instrument: 'p',
      quantity: 'inletPressure',
      value: 1e6,
      measuredAt: START,
      receivedAt: START,
      quality: 'good',
      reasons: [],
    })
    evaluator.evaluate(START)
    expect(evaluator.view(nodeOf(plan, 'netHead')!.index).u95).toBeUndefined()
  })

  it('give what follows from switches and constants alone their ±', () => {
    const turbine = '{ kind: pelton, jets: 1, nozzleCoefficient: 0.94 ± 2 % }'
    const bench = figureBench({ turbine }, { 'jetOpen.1': '1' })
    // JCGM 100 G.3: 95 % of one rectangle, 0.95 of its half-width
    expect(bench.view('nozzleCoefficient').u95).toBeCloseTo(0.95 * 0.02 * 0.94, 4)
  })

  it('have a default only where they are constants or curves of the plant file', () => {
    for (const path of Object.keys(ASSUMED)) expect([...constantPaths, ...CURVE_PATHS], path).toContain(path)
  })
})
