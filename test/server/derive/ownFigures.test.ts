import { describe, expect, it } from 'vitest'
import { explainFigure } from '../../../server/derive/explain.ts'
import { ownFigures } from '../../../server/derive/ownFigures.ts'
import { nodeOf } from '../../../server/derive/plan.ts'
import { describePlant } from '../../../server/derive/plantView.ts'
import { planPlant } from '../../../server/livePlant.ts'
import { evaluatorBench } from '../../support/evaluatorBench.ts'
import { plantOf, THREE_SENSORS } from '../../support/plants.ts'

const withFigures = (...figures: string[]) =>
  plantOf(`${THREE_SENSORS}figures:\n${figures.map((one) => `  - ${one}\n`).join('')}`)

const EARNING =
  '{ id: earning, name: Earnings, formula: P * price, inputs: { P: activePower }, constants: { price: "0.12 /(kW.h)" }, unit: /h }'

/** Fed as the worked example 3.2 (a) of test/reference/README.md, with 4 kW at the generator. */
function fed(...figures: string[]) {
  const bench = evaluatorBench(withFigures(...figures))
  bench.read('inletPressure', 480_000)
  bench.read('discharge', 0.012)
  bench.read('activePower', 4000)
  bench.evaluate()
  return bench
}

describe('an own figure', () => {
  it('is computed in SI and read in its unit', () => {
    // by hand: 4 kW · 0.12 per kWh = 0.48 per hour
    const bench = fed(EARNING)
    expect(bench.view('earning').value! * 3600).toBeCloseTo(0.48, 12)
    const { description } = nodeOf(bench.plan, 'earning')!
    expect(description).toMatchObject({ unit: '/s', viewUnit: '/h', origin: 'derived', group: 'condition' })
  })

  it('takes the id of a figure as a symbol, a constant of the plant file and an amount', () => {
    const bench = fed(
      '{ id: jetShare, name: Share, formula: hydraulicPower * d / (activePower * b), constants: { d: turbine.inletBore, b: 0.5 m }, unit: "1" }',
    )
    const expected = (bench.view('hydraulicPower').value! * 0.1) / (4000 * 0.5)
    expect(bench.view('jetShare').value).toBeCloseTo(expected, 12)
  })

  it('has the uncertainty that follows from its formula', () => {
    const bench = fed('{ id: twice, name: Twice, formula: 2 * activePower, unit: kW }')
    // JCGM 100 5.1.3: |c|·u, c = 2
    expect(bench.view('twice').u95).toBeCloseTo(2 * bench.view('activePower').u95!, 9)
  })

  it('explains itself with its amounts and where they are written', () => {
    const bench = fed(EARNING)
    const reply = explainFigure(bench.plan, bench.evaluator, 'earning')!
    expect(reply.formula).toMatchObject({ symbols: 'P · price', source: 'the plant file' })
    expect(reply.constants).toEqual([
      {
        symbol: 'price',
        path: 'figures[0].constants.price',
        unit: '/J',
        value: expect.closeTo(0.12 / 3.6e6, 15),
      },
    ])
    expect(reply.inputs.map((input) => input.figure.id)).toEqual(['activePower'])
  })

  it('uses other own figures in whatever order they are written', () => {
    const bench = fed(
      '{ id: daily, name: A day, formula: earning * day, constants: { day: 24 h }, unit: "1" }',
      EARNING,
    )
    // by hand: 0.48 per hour for 24 h
    expect(bench.view('daily').value).toBeCloseTo(11.52, 9)
  })

  it('is found however long the chain that leads to it', () => {
    const chain = Array.from({ length: 99 }, (_, i) => {
      const before = i === 0 ? 'activePower' : `step${i - 1}`
      return `{ id: step${i}, name: Step, formula: 1 * ${before}, unit: W }`
    })
    expect(fed(...chain.reverse()).view('step98').value).toBe(4000)
  })

  it('is left blank where its test does not hold, and flagged outside what is possible', () => {
    const bench = fed(
      '{ id: low, name: Low, formula: P / 2, inputs: { P: activePower }, unit: W, valid: [{ test: P > limit, otherwise: too little }], constants: { limit: 5 kW } }',
      '{ id: odd, name: Odd, formula: P * 1, inputs: { P: activePower }, unit: kW, possible: { high: 3 kW, suspects: the meter } }',
    )
    expect(bench.view('low')).toMatchObject({ value: null, reasons: ['too little'] })
    expect(bench.view('odd')).toMatchObject({ value: 4000, reasons: ['impossible: check the meter'] })
  })

  it('has limits in Cel read as a difference where it is one itself: 288.15 K less 283.15 K is more than 4 Cel', () => {
    const rise =
      '{ id: rise, name: Rise, formula: P / P * t - t_0, inputs: { P: activePower }, constants: { t: site.waterTemperature, t_0: 283.15 K }, unit: K'
    const flagged = (high: string) =>
      fed(`${rise}, possible: { high: ${high}, suspects: the air } }`).view('rise').reasons
    expect(flagged('4 Cel')).toEqual(['impossible: check the air'])
    expect(flagged('6 Cel')).toEqual([])
  })

  it('is missing with what it needs where the plant lacks an instrument or a constant', () => {
    const { missing } = evaluatorBench(
      withFigures(
        '{ id: heat, name: Heat, formula: torque * speed, unit: W }',
        '{ id: bore, name: Bore, formula: 2 * D, constants: { D: penstock.bore }, unit: m }',
      ),
    ).plan
    expect(missing).toContainEqual({ id: 'heat', name: 'Heat', needs: 'needs shaft torque and speed' })
    expect(missing).toContainEqual({
      id: 'bore',
      name: 'Bore',
      needs: 'needs penstock.bore in the plant file',
    })
  })

  it('can be watched by an alarm, come first and be drawn as a trend', () => {
    const plant = plantOf(
      `${THREE_SENSORS}  \nfigures:\n  - ${EARNING}\nalarms:\n  - { id: rich, name: Rich, kind: high, figure: earning, limit: 0.4 /h, priority: low }\nshow: { keyFigures: [earning], trends: [earning] }\n`,
    )
    const { plan, settings, faults } = planPlant(plant)
    expect(faults).toEqual([])
    expect(settings[0]!.limit! * 3600).toBeCloseTo(0.4, 12)
    expect(describePlant(plan)).toMatchObject({ keyFigures: ['earning'], trends: ['earning'] })
  })

  it('adds up a list of instruments', () => {
    const text = THREE_SENSORS.replace(
      'instruments:',
      'instruments:\n  - { id: j1, role: jetOpen.1, topic: j/1, unit: "1" }\n  - { id: j2, role: jetOpen.2, topic: j/2, unit: "1" }',
    )
    const bench = evaluatorBench(
      plantOf(
        `${text}figures:\n  - { id: open, name: Open, formula: sum(j), inputs: { j: jetOpen.* }, unit: "1" }\n`,
      ),
    )
    bench.read('jetOpen.1', 1)
    bench.read('jetOpen.2', 1)
    bench.evaluate()
    expect(bench.view('open').value).toBe(2)
  })
})

describe('a fault in an own figure', () => {
  const figure = (more: string) => `{ id: mine, name: Mine, unit: W, ${more} }`

  it.each<[what: string, more: string, path: string, received: RegExp, expected: RegExp]>([
    ['an unknown symbol', 'formula: activePwer', 'formula', /"activePwer"/, /activePower/],
    [
      'an unknown figure',
      'formula: P, inputs: { P: activePwer }',
      'inputs.P',
      /"activePwer"/,
      /a figure: activePower/,
    ],
    [
      'a family without a number',
      'formula: U * I, inputs: { U: phaseVoltage, I: phaseCurrent.1 }',
      'inputs.U',
      /"phaseVoltage"/,
      /a figure/,
    ],
    ['a list used as one', 'formula: j * activePower, inputs: { j: jetOpen.* }', 'formula', /is a list/, /./],
    [
      'units that do not add up',
      'formula: activePower + discharge',
      'formula',
      /puts .* together/,
      /units add up/,
    ],
    [
      'a result of another unit',
      'formula: discharge',
      'formula',
      /m\^3·s\^-1/,
      /m\^2·kg·s\^-3, as its unit W/,
    ],
    ['an unknown function', 'formula: fetch(activePower)', 'formula', /function "fetch"/, /./],
    ['a slope, which has no window', 'formula: slope(activePower)', 'formula', /function "slope"/, /./],
    ['an assignment', 'formula: "x = activePower"', 'formula', /not one of the inputs|not allowed|"x"/, /./],
    ['a text that is no formula', 'formula: "activePower *"', 'formula', /activePower \*/, /a formula/],
    ['a comparison as amount', 'formula: activePower > 0', 'formula', /a comparison/, /an amount/],
    [
      'a test that is an amount',
      'formula: activePower, valid: [{ test: discharge, otherwise: no }]',
      'valid[0].test',
      /"discharge"/,
      /a comparison/,
    ],
    [
      'a constant that is neither',
      'formula: activePower * k, constants: { k: turbine.colour }',
      'constants.k',
      /turbine\.colour/,
      /turbine\.pitchDiameter/,
    ],
    [
      'an amount in an unknown unit',
      'formula: activePower * k, constants: { k: 3 furlongs }',
      'constants.k',
      /3 furlongs/,
      /0\.35 m3/,
    ],
    [
      'an input that is not used',
      'formula: activePower, inputs: { Q: discharge }',
      'inputs.Q',
      /"Q"/,
      /uses/,
    ],
    [
      'a symbol given twice',
      'formula: P, inputs: { P: activePower }, constants: { P: 1 W }',
      'constants.P',
      /"P"/,
      /not an input/,
    ],
    [
      'a bound in another unit',
      'formula: activePower, possible: { low: 3 m, suspects: me }',
      'possible.low',
      /3 m/,
      /kW/,
    ],
    ['a view of something else', 'formula: activePower, view: m', 'view', /"m"/, /kW/],
    [
      'brackets without end',
      `formula: "${'('.repeat(60)}activePower${')'.repeat(60)}"`,
      'formula',
      /61 levels/,
      /at most 40/,
    ],
  ])('is told with its place: %s', (_what, more, path, received, expected) => {
    const { faults, quantities } = ownFigures(withFigures(figure(more)))
    expect(faults).toHaveLength(1)
    expect(faults[0]!.path).toBe(`figures[0].${path}`)
    expect(faults[0]!.received).toMatch(received)
    expect(faults[0]!.expected).toMatch(expected)
    expect(quantities).toEqual([])
  })

  it.each([
    ['netHead', 'a figure that Headrace computes'],
    ['discharge', 'a figure that Headrace computes'],
    ['vibration', 'a role of instruments'],
    ['energyGenerated', 'a counter'],
  ])('is an id that is taken: %s', (id, owner) => {
    const { faults } = planPlant(withFigures(`{ id: ${id}, name: Mine, formula: 2 * pi, unit: "1" }`))
    expect(faults).toEqual([
      { path: 'figures[0].id', received: `"${id}"`, expected: `an id that is not taken: this is ${owner}` },
    ])
  })

  it('is a circle, told once with its members', () => {
    const { faults, quantities } = ownFigures(
      withFigures(
        '{ id: a, name: A, formula: b + activePower, unit: W }',
        '{ id: b, name: B, formula: 2 * c, unit: W }',
        '{ id: c, name: C, formula: a / 2, unit: W }',
        '{ id: d, name: D, formula: 2 * activePower, unit: W }',
      ),
    )
    expect(faults).toEqual([
      {
        path: 'figures[0].formula',
        received: 'a → b → c → a',
        expected: 'figures that do not need each other in a circle',
      },
    ])
    expect(quantities.map((one) => one.id)).toEqual(['d'])
  })

  it.each([249, 499])('is refused without harm: %d brackets', (depth) => {
    const { faults } = ownFigures(
      withFigures(figure(`formula: "${'('.repeat(depth)}1${')'.repeat(499 - depth)}"`)),
    )
    expect(faults).toHaveLength(1)
  })

  it('is a figure that needs itself', () => {
    const { faults } = ownFigures(withFigures('{ id: me, name: Me, formula: me + activePower, unit: W }'))
    expect(faults[0]!.received).toBe('me → me')
  })
})
