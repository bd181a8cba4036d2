import { describe, expect, it } from 'vitest'
import { figureBench, figureOf, type Readings, take } from '../../../support/figureBench.ts'
import { START } from '../../../support/manualClock.ts'

// Numbers of the design sheets of the two sites (our own design, see test/support/designSheets.ts: "design sheet"),
// and hand calculations where a line says so.
const BECK = {
  use: 'offGrid',
  site: 'gravity: 9.81 m/s2, waterDensity: 999.7 kg/m3, waterTemperature: 10 Cel, elevations: { turbine: 212.40 m, inletGauge: 212.90 m, headwaterZero: 262 m }',
  turbine:
    '{ kind: turgo, jets: 2, pitchDiameter: 175 mm, nozzleBore: 32 mm, velocityCoefficient: 0.97, inletBore: 198.2 mm, ratedNetHead: 48 m, ratedDischarge: 44.26 L/s, nozzleCurve: [[0, 0], [1, 0.8966]] }',
  generator:
    '{ kind: synchronous, polePairs: 2, ratedPower: 15 kW, ratedSpeed: 1500 /min, inertia: 1.2 kg.m2 }',
  penstock:
    '{ bore: 198.2 mm, length: 310 m, roughness: 0.05 mm, minorLoss: 2.6, waveSpeed: 290 m/s, closingTime: 15 s }',
}
const FULL = { headwaterLevel: '1.50 m', discharge: '44.26 L/s' }

describe('figures of the off-grid Turgo plant', () => {
  it.each<[figure: string, readings: Readings, expected: number, within: number]>([
    ['grossHead', FULL, 51.1, 1e-9],
    ['modelledHeadLoss', FULL, 3.1, 0.02],
    ['netHead', FULL, 48.0, 0.02],
    ['lossShare', FULL, 0.061, 0.0005],
    // three times 6.1 %
    ['lossOverOptimum', FULL, 0.182, 0.001],
    ['surgeHead', FULL, 42.4, 0.05],
    ['closureHead', FULL, 6.04, 0.01],
    ['jetVelocity', FULL, 29.77, 0.01],
    ['speedRatio', { ...FULL, speed: '1500 /min' }, 0.462, 0.0005],
    ['waterToWireEfficiency', { ...FULL, activePower: '15 kW' }, 0.72, 0.001],
    // 15.0 kW over ρgQ·51.10 m
    ['plantEfficiency', { ...FULL, activePower: '15 kW' }, 15_000 / (999.7 * 9.81 * 0.04426 * 51.1), 1e-9],
    ['mechanicalTimeConstant', FULL, (1.2 * (50 * Math.PI) ** 2) / 15_000, 1e-9],
    ['kineticEnergy', { speed: '1500 /min' }, 0.6 * (50 * Math.PI) ** 2, 1e-6],
  ])('%s of %o is %d (design sheet)', (figure, readings, expected, within) => {
    expect(Math.abs(figureOf(figure, readings, BECK) - expected)).toBeLessThanOrEqual(within)
  })

  it('a closure within 2L/a is as bad as a sudden one', () => {
    const quick = { ...BECK, penstock: BECK.penstock.replace('15 s', '2 s') }
    expect(figureOf('closureHead', FULL, quick)).toBeCloseTo(figureOf('surgeHead', FULL, BECK), 9)
  })

  it.each([
    // operating table: openings of the spears, discharge [L/s]; net head is 51.10 m less 3.10 m·(Q/44.26)²
    [0.5, 0, 11.4],
    [0.75, 0, 17.0],
    [1, 0, 22.6],
    [0.5, 0.5, 22.6],
    [0.75, 0.75, 33.6],
    [1, 1, 44.3],
  ])('spears at %d and %d pass %d L/s', (first, second, litres) => {
    const head = 51.1 - 3.1 * (litres / 44.26) ** 2
    const velocityHead = (litres / 1000 / ((Math.PI / 4) * 0.1982 ** 2)) ** 2 / 19.62
    const readings = {
      inletPressure: `${999.7 * 9.81 * (head - 0.5 - velocityHead)} Pa`,
      discharge: `${litres} L/s`,
      'needleStroke.1': `${first}`,
      'needleStroke.2': `${second}`,
    }
    const bench = figureBench(BECK, readings)
    expect(bench.view('nozzleFlow').value! * 1000).toBeCloseTo(litres, 0.9)
    expect(bench.view('nozzleHealth').value).toBeCloseTo(1, 2)
  })

  it('discharge follows from the spears where no flow is measured, marked as estimated', () => {
    const spears = { inletPressure: '4.6 bar', 'needleStroke.1': '1', 'needleStroke.2': '0.5' }
    const bench = figureBench(BECK, spears)
    // by hand: 0.8966 · 1.5 of both, and Q = a·√(2gh)/√(1 − (a/A)²) at the gauge 0.50 m above the jet
    const a = 1.5 * 0.8966 * (Math.PI / 4) * 0.032 ** 2
    const head = 4.6e5 / (999.7 * 9.81) + 0.5
    const share = (1.5 * 0.8966 * 0.032 ** 2) / 0.1982 ** 2
    const flow = (a * Math.sqrt(2 * 9.81 * head)) / Math.sqrt(1 - share ** 2)
    expect(bench.view('nozzleCoefficient').value).toBeCloseTo(1.5 * 0.8966, 12)
    expect(bench.view('discharge').value).toBeCloseTo(flow, 12)
    expect(bench.view('discharge').reasons[0]).toMatch(/^estimated/)
    expect(bench.view('nozzleFlow').value).toBeCloseTo(flow, 9)
    // by hand: without the bore of the pipe its velocity head is left out, in the head as in the discharge
    const bare = { ...BECK, turbine: BECK.turbine.replace('inletBore: 198.2 mm, ', '') }
    expect(figureOf('discharge', spears, bare)).toBeCloseTo(a * Math.sqrt(2 * 9.81 * head), 12)
    expect(figureOf('nozzleFlow', spears, bare)).toBeCloseTo(a * Math.sqrt(2 * 9.81 * head), 12)
    // by hand: the gauge alone, 0.8966 · 1.5 · π/4 · 0.032² · √(2·4.6e5/999.7)
    const alone = { ...bare, site: 'gravity: 9.81 m/s2, waterDensity: 999.7 kg/m3, waterTemperature: 10 Cel' }
    expect(figureOf('discharge', spears, alone)).toBeCloseTo(a * Math.sqrt(9.2e5 / 999.7), 12)
  })
})

describe('water at the intake', () => {
  const INTAKE = {
    ...BECK,
    spillway: '{ crest: 1.50 m, width: 3 m, coefficient: 1.7 }',
    forebay: '{ area: 60 m2, lowestLevel: 0.65 m }',
  }

  it('spills by the weir law, and not at all below the crest', () => {
    // computed for the project: 1.7 · 3 · 0.2^1.5 = 0.45616 m³/s
    const view = figureBench(INTAKE, { headwaterLevel: '1.70 m' }).view('spillFlow')
    expect(view.value).toBeCloseTo(0.45616, 5)
    expect(view.reasons[0]).toMatch(/^estimated/)
    expect(figureOf('spillFlow', { headwaterLevel: '1.40 m' }, INTAKE)).toBe(0)
  })

  it('is told by the level before the rack where there is one (by hand)', () => {
    const levels = { rackUpstreamLevel: '1.70 m', headwaterLevel: '1.30 m' }
    expect(figureOf('pondLevel', levels, INTAKE)).toBe(1.7)
    expect(figureOf('spillFlow', levels, INTAKE)).toBeCloseTo(0.45616, 5)
  })

  it('goes over a measuring weir where the plant file says which flow that is', () => {
    const weir = '{ notchAngle: 90 deg, measures: spillFlow }'
    // references 7.4: 90°, 0.2 m → 0.02468866 at g = 9.80665
    const site = 'gravity: 9.80665 m/s2'
    expect(figureOf('spillFlow', { weirHead: '0.2 m' }, { weir, site })).toBeCloseTo(0.02468866, 6)
    const residual = weir.replace('spillFlow', 'residualFlow')
    expect(figureOf('residualFlow', { weirHead: '0.2 m' }, { weir: residual, site })).toBeCloseTo(
      0.02468866,
      6,
    )
  })

  it('leaves the residual flow by the orifice law', () => {
    const residualOutlet = '{ area: 0.02 m2, coefficient: 0.6, centre: 0.20 m }'
    // by hand: 0.6 · 0.02 · √(2 · 9.81 · 1.0)
    const flow = figureOf('outletFlow', { headwaterLevel: '1.20 m' }, { ...BECK, residualOutlet })
    expect(flow).toBeCloseTo(0.012 * Math.sqrt(19.62), 12)
    expect(figureOf('residualFlow', { headwaterLevel: '0.19 m' }, { ...BECK, residualOutlet })).toBe(0)
  })

  it('adds to the residual flow what is spilt, where that reaches the river too (continuity, by hand)', () => {
    const residualOutlet = '{ area: 0.02 m2, coefficient: 0.6, centre: 0.20 m }'
    const [outlet, spill] = [0.012 * Math.sqrt(2 * 9.81 * 1.5), 1.7 * 3 * 0.2 ** 1.5]
    const left = (sections: Record<string, string>, more: Readings = {}) =>
      figureOf('residualFlow', { headwaterLevel: '1.70 m', ...more }, { ...INTAKE, ...sections })
    expect(left({ residualOutlet })).toBeCloseTo(outlet + spill, 12)
    const elsewhere = INTAKE.spillway.replace(' }', ', reachesRiver: false }')
    expect(left({ residualOutlet, spillway: elsewhere })).toBeCloseTo(outlet, 12)
    expect(left({ residualOutlet }, { headwaterLevel: '0.19 m' })).toBe(0)
    // what is spilt alone is not the residual flow: how the river is fed otherwise is not known
    expect(left({})).toBeNaN()
  })

  it('adds nothing to a weir that measures the residual flow, unless the file says what runs beside it', () => {
    const more = { weirHead: '0.2 m' }
    const weir = '{ notchAngle: 90 deg, measures: residualFlow }'
    const left = (outlet: string) =>
      figureOf(
        'residualFlow',
        { headwaterLevel: '1.70 m', ...more },
        { ...INTAKE, weir, residualOutlet: outlet },
      )
    // references 7.4: 90°, 0.2 m, at the gravity of the site
    const measured = 0.02468866 * Math.sqrt(9.81 / 9.80665)
    expect(left('{ area: 0.02 m2, centre: 0.20 m }')).toBeCloseTo(measured, 6)
    expect(left('{ area: 0.02 m2, centre: 0.20 m, reachesRiver: true }')).toBeCloseTo(
      measured + 0.012 * Math.sqrt(2 * 9.81 * 1.5),
      6,
    )
  })

  it('could have made power as far as the machine has room for it', () => {
    const spilling = { ...FULL, headwaterLevel: '1.70 m', discharge: '22.13 L/s', inletPressure: '4.8 bar' }
    const bench = figureBench(INTAKE, spilling)
    // by hand: half of the rated discharge is free, so half of 15 kW by the share of the head
    expect(bench.view('lostPower').value).toBeCloseTo((7500 * bench.view('netHead').value!) / 48, 6)
    const full = figureBench(INTAKE, { ...spilling, discharge: '44.26 L/s' })
    expect(full.view('lostPower').value).toBe(0)
  })

  /** The level rises or falls evenly for ten minutes, read every 5 s. */
  function afterTenMinutes(sections: Record<string, string>, perMinute: number) {
    const bench = figureBench(sections, { headwaterLevel: '1.00 m' })
    for (let second = 0; second <= 600; second += 5) {
      take(bench, { headwaterLevel: `${1 + (perMinute * second) / 60} m` }, START + second * 1000)
      bench.evaluate(START + second * 1000)
    }
    return bench
  }

  it('spills after the time that volume and gain say', () => {
    const bench = afterTenMinutes(INTAKE, 0.01)
    // by hand: 0.01 m/min · 60 m² = 10 L/s; from 1.10 m to the crest at 1.50 m it takes 40 min
    expect(bench.view('forebayVolume').value).toBeCloseTo(60 * 0.45, 9)
    expect(bench.view('forebayGain').value).toBeCloseTo(0.01, 9)
    expect(bench.view('timeToSpill').value! / 60).toBeCloseTo(40, 6)
    expect(bench.view('timeToDrain')).toMatchObject({ value: null, reasons: ['the level does not fall'] })
  })

  it('is empty after the time that volume and loss say', () => {
    const bench = afterTenMinutes(INTAKE, -0.01)
    // by hand: from 0.90 m to 0.65 m at 0.01 m/min
    expect(bench.view('timeToDrain').value! / 60).toBeCloseTo(25, 6)
    expect(bench.view('timeToSpill').value).toBeNull()
  })

  it('spills already above the crest: there is no time until then', () => {
    for (const forebay of [INTAKE.forebay, '{ volumeCurve: [[0.5, 0], [2.0, 120]], lowestLevel: 0.65 m }']) {
      // from 1.00 m by 0.06 m/min to 1.60 m; the crest stands at 1.50 m
      const bench = afterTenMinutes({ ...INTAKE, forebay }, 0.06)
      expect(bench.view('timeToSpill')).toMatchObject({ value: null, reasons: ['the intake spills already'] })
    }
  })

  it('takes the volume from a table where there is one', () => {
    const forebay = '{ volumeCurve: [[0.5, 0], [1.0, 20], [2.0, 120]], lowestLevel: 0.65 m }'
    const bench = afterTenMinutes({ ...INTAKE, forebay }, 0.01)
    // by hand: at 1.10 m 30 m³, at 0.65 m 6 m³, at the crest 70 m³; 100 m²·0.01 m/min
    expect(bench.view('forebayVolume').value).toBeCloseTo(24, 9)
    expect(bench.view('timeToSpill').value! / 60).toBeCloseTo(40, 6)
  })

  it('has no gain before the level was watched for half of five minutes', () => {
    const bench = figureBench(INTAKE, { headwaterLevel: '1.00 m' })
    expect(bench.view('forebayGain')).toMatchObject({
      value: null,
      quality: 'uncertain',
      reasons: ['too few readings yet'],
    })
  })

  it('shows by its level whether the gauge is right while nothing flows', () => {
    const still = { headwaterLevel: '1.50 m', inletPressure: '5.00 bar', discharge: '0 L/s' }
    // by hand: 5.00 bar/(999.7·9.81) + 212.90 − 263.50
    const expected = 5e5 / (999.7 * 9.81) + 212.9 - 263.5
    expect(figureOf('staticHeadExcess', still, BECK)).toBeCloseTo(expected, 9)
    const flowing = figureBench(BECK, { ...still, discharge: '20 L/s' })
    expect(flowing.view('staticHeadExcess')).toMatchObject({ value: null, reasons: ['water is flowing'] })
  })
})
