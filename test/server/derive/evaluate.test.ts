import { describe, expect, it } from 'vitest'
import { evaluatorBench } from '../../support/evaluatorBench.ts'
import { START } from '../../support/manualClock.ts'
import { plantOf, THREE_SENSORS, threeSensorPlant } from '../../support/plants.ts'

describe('createEvaluator', () => {
  it('gives net head and hydraulic power of an impulse machine as the worked example 3.2 (a) of test/reference/README.md', () => {
    // computed: p = 480 kPa, Q = 12 L/s, D = 100 mm, Δz = 0.35 m, ρ = 999.10, g = 9.8066 → H = 49.459743 m, 5815.145 W
    const text = THREE_SENSORS.replace('9.81 m/s2', '9.8066 m/s2').replace('1000 kg/m3', '999.10 kg/m3')
    const bench = evaluatorBench(plantOf(text))
    bench.read('inletPressure', 480_000)
    bench.read('discharge', 0.012)
    bench.evaluate()
    expect(bench.view('netHead').value).toBeCloseTo(49.459743, 5)
    expect(bench.view('hydraulicPower').value).toBeCloseTo(5815.145, 2)
  })

  it('blanks what needs an input that never came, and names it', () => {
    const bench = evaluatorBench(threeSensorPlant())
    bench.read('inletPressure', 480_000)
    bench.evaluate()
    expect(bench.view('hydraulicPower')).toMatchObject({
      value: null,
      quality: 'bad',
      reasons: ['discharge: no reading yet'],
    })
  })

  it('keeps a stale measurement in sight as bad with its age, and blanks what is derived from it', () => {
    const bench = evaluatorBench(threeSensorPlant())
    for (const [quantity, value] of [
      ['inletPressure', 480_000],
      ['discharge', 0.012],
    ] as const)
      bench.read(quantity, value)
    bench.read('inletPressure', 480_000, { measuredAt: START + 14_000 })
    bench.evaluate(START + 14_000)
    expect(bench.view('discharge')).toMatchObject({ value: 0.012, quality: 'bad', reasons: ['stale 14 s'] })
    expect(bench.view('hydraulicPower')).toMatchObject({ value: null, reasons: ['discharge: stale 14 s'] })
  })

  it('passes on the worst quality of the inputs that the formula uses, with the reason', () => {
    const bench = evaluatorBench(threeSensorPlant())
    bench.read('inletPressure', 480_000)
    bench.read('discharge', 0.0205, { quality: 'uncertain', reasons: ['above range 20 L/s'] })
    bench.evaluate()
    expect(bench.view('hydraulicPower')).toMatchObject({
      quality: 'uncertain',
      reasons: ['discharge: above range 20 L/s'],
    })
  })

  it('shows an efficiency above one as impossible instead of clamping it', () => {
    const bench = evaluatorBench(threeSensorPlant())
    bench.read('inletPressure', 480_000)
    bench.read('discharge', 0.006)
    bench.read('activePower', 4000)
    bench.evaluate()
    const { value, quality, reasons } = bench.view('waterToWireEfficiency')
    expect(value).toBeGreaterThan(1)
    expect(quality).toBe('uncertain')
    expect(reasons).toEqual(['impossible: check discharge, head or power'])
  })

  it('blanks an efficiency below its validity floor and says why', () => {
    const bench = evaluatorBench(threeSensorPlant())
    bench.read('inletPressure', 480_000)
    bench.read('discharge', 0.0001)
    bench.read('activePower', 10)
    bench.evaluate()
    expect(bench.view('waterToWireEfficiency')).toMatchObject({
      value: null,
      reasons: ['hydraulic power is below 5 % of rated'],
    })
  })

  it('marks inputs that are too far apart in time', () => {
    const bench = evaluatorBench(threeSensorPlant())
    bench.read('inletPressure', 480_000)
    bench.read('discharge', 0.012, { measuredAt: START + 5000, receivedAt: START + 5000 })
    bench.evaluate(START + 4900)
    expect(bench.view('hydraulicPower').reasons).toEqual([])
    bench.read('discharge', 0.012, { measuredAt: START + 5100, receivedAt: START + 4950 })
    bench.evaluate(START + 4950)
    expect(bench.view('netHead').reasons).toEqual(['its inputs are 5 s apart'])
  })

  it('never takes a late reading for the present value', () => {
    const bench = evaluatorBench(threeSensorPlant())
    bench.read('discharge', 0.012, { measuredAt: START })
    bench.read('discharge', 0.001, { measuredAt: START - 1, late: true })
    bench.evaluate()
    expect(bench.view('discharge').value).toBe(0.012)
  })

  it('does not count a retained value of unknown age as a live one', () => {
    const bench = evaluatorBench(threeSensorPlant())
    bench.read('inletPressure', 480_000)
    bench.read('discharge', 0.012, {
      ageUnknown: true,
      quality: 'uncertain',
      reasons: ['retained, age unknown'],
    })
    bench.evaluate()
    expect(bench.view('discharge')).toMatchObject({
      value: 0.012,
      quality: 'bad',
      reasons: ['retained, age unknown'],
    })
    expect(bench.view('hydraulicPower').value).toBeNull()
  })

  it('names only the figures that changed', () => {
    const bench = evaluatorBench(threeSensorPlant())
    bench.read('inletPressure', 480_000)
    bench.evaluate()
    expect(bench.evaluate()).toEqual([])
    bench.read('inletPressure', 481_000)
    const names = bench.evaluate().map((index) => bench.plan.nodes[index]!.description.id)
    expect(names).toEqual(['inletPressure'])
  })
})

describe('uncertainty along the formulas', () => {
  it('follows JCGM 100 for pressure, flow and power of independent rectangular limits', () => {
    const bench = evaluatorBench(threeSensorPlant())
    bench.read('inletPressure', 480_000)
    bench.read('discharge', 0.012)
    bench.read('activePower', 4000)
    bench.evaluate()
    // By hand, JCGM 100 5.1: u(p) = 0.25 % of 10 bar / √3; u(Q) = 1 % / √3; H = p/ρg + 0.35 + v²/2g
    const uHead = (0.0025 * 1e6) / Math.sqrt(3) / (1000 * 9.81)
    const head = 480_000 / 9810 + 0.35 + (0.012 / (Math.PI * 0.0025)) ** 2 / 19.62
    const velocityHead = (0.012 / (Math.PI * 0.0025)) ** 2 / 19.62
    const relativeFlow = 0.01 / Math.sqrt(3)
    // Q enters hydraulic power once directly and twice through the velocity head
    const fromFlow = relativeFlow * (1 + (2 * velocityHead) / head)
    // Two rectangles of half-widths a and b make a trapezoid with 95 % inside a + b − √(ab/5), JCGM 100 4.3.9
    const [a, b] = [Math.sqrt(3) * fromFlow, (Math.sqrt(3) * uHead) / head]
    const { value, u95 } = bench.view('hydraulicPower')
    expect(u95! / value!).toBeCloseTo(a + b - Math.sqrt((a * b) / 5), 5)
  })

  it('is that of the present readings, also after a change and after a figure was blank', () => {
    const feed = (bench: ReturnType<typeof evaluatorBench>, discharge: number) => {
      for (const [quantity, value] of [
        ['inletPressure', 480_000],
        ['discharge', discharge],
        ['activePower', 4000],
      ] as const)
        bench.read(quantity, value)
      bench.evaluate()
    }
    const ids = ['hydraulicPower', 'waterToWireEfficiency']
    const fresh = evaluatorBench(threeSensorPlant())
    feed(fresh, 0.012)
    const veteran = evaluatorBench(threeSensorPlant())
    // 0.0001 m³/s is below the floor of the efficiency
    for (const discharge of [0.016, 0.0001, 0.012]) feed(veteran, discharge)
    for (const id of ids) expect(veteran.view(id).u95, id).toBe(fresh.view(id).u95)
    feed(veteran, 0.0001)
    expect(veteran.view('waterToWireEfficiency').u95).toBeUndefined()
  })

  it('knows that two inputs fed by one instrument move together', () => {
    const way = (formula: string, inputs: Record<string, string>) => [{ formula, inputs, source: 'test' }]
    const figure = { name: '', symbol: '', view: '1', group: 'electrical' as const }
    const bench = evaluatorBench(threeSensorPlant(), [
      { ...figure, id: 'twice', unit: 'W', ways: way('2 * P', { P: 'activePower' }) },
      { ...figure, id: 'ratio', unit: '1', ways: way('D / P', { D: 'twice', P: 'activePower' }) },
      { ...figure, id: 'total', unit: 'W', ways: way('D + P', { D: 'twice', P: 'activePower' }) },
    ])
    bench.read('activePower', 4000)
    bench.evaluate()
    const u95 = bench.view('activePower').u95!
    // JCGM 100 5.2: full correlation. Taken as independent the ratio would have 0.65 % and the total 2.24·u.
    expect(bench.view('ratio').value).toBe(2)
    expect(bench.view('ratio').u95 ?? 0).toBeLessThan(1e-6)
    expect(bench.view('total').u95).toBeCloseTo(3 * u95, 6)
  })

  it('gives none where every instrument is said to be exact', () => {
    const bench = evaluatorBench(
      plantOf(THREE_SENSORS.replaceAll(/accuracy: \{[^}]*\}/g, 'accuracy: { absolute: 0 }')),
    )
    bench.read('inletPressure', 480_000)
    bench.read('discharge', 0.012)
    bench.evaluate()
    expect(bench.view('hydraulicPower').u95).toBeUndefined()
  })

  it('adds the scatter of the last readings', () => {
    const bench = evaluatorBench(
      plantOf(THREE_SENSORS.replaceAll(/accuracy: \{[^}]*\}/g, 'accuracy: { absolute: 0 }')),
    )
    const noise = [3, -2, 1, -4, 2, 0, -1, 3, -3, 1]
    noise.forEach((offset, i) => {
      bench.read('activePower', 4000 + offset, { measuredAt: START + i * 1000 })
    })
    bench.evaluate(START + 9000)
    // By hand: of eight residuals against the middle of the neighbours, ((a + c)/2 − b)/√1.5, none is far from the others.
    const squares = noise.slice(2).map((c, i) => ((noise[i]! + c) / 2 - noise[i + 1]!) ** 2 / 1.5)
    const deviation = Math.sqrt(squares.reduce((a, b) => a + b, 0) / squares.length)
    // Box 1954: ν = 8/(1 + 8/9·7/8 + 1/18·6/8) = 4.397 of eight that hang together; t by integration in plain Python
    expect(bench.view('activePower').u95).toBeCloseTo(2.6803 * deviation, 2)
  })
})
